/** Taking in a scan for the command line. */

import { basename } from "node:path";
import type { OpenedScan } from "../../core/plan/answers.ts";
import { openScan } from "../../core/plan/planner.ts";
import type { Issue } from "../../core/refusal.ts";
import { MM_PER_UNIT, settleUnit, type Unit } from "../../core/scan/unit.ts";
import { openFileSource } from "../files/fileSource.ts";
import type { Taking } from "./options.ts";
import type { Shop } from "./verb.ts";

/** Reads and examines the scan; the file is closed again whatever happens. */
export async function takeIn(path: string, shop: Shop): Promise<OpenedScan> {
	const source = openFileSource(path);
	try {
		return await shop.run(openScan(source, basename(path)));
	} finally {
		source.close();
	}
}

/** The unit of the scan and the size at which it is taken; refuses a unit in doubt, with the candidates. */
export function settled(scan: OpenedScan, taking: Taking): { unit: Unit; reason: Issue; mmPerUnit: number } {
	const { min, max } = scan.health.bounds;
	const extent = Math.max(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
	const { unit, reason } = settleUnit(extent, taking.unit, scan.name);
	return { unit, reason, mmPerUnit: MM_PER_UNIT[unit] * (taking.scale ?? 1) };
}
