/** Taking in a scan for the command line. */

import { basename } from "node:path";
import type { OpenedScan } from "../../core/plan/answers.ts";
import { openScan } from "../../core/plan/planner.ts";
import { openFileSource } from "../files/fileSource.ts";
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
