/** What a window is asked to open: a scan, a commission or a demo named on the command line or by the system. */

import { basename, dirname, join, resolve } from "node:path";
import { readCommission } from "../core/plan/readDocument.ts";
import { Refusal } from "../core/refusal.ts";
import { seeds } from "../seeds/index.ts";
import type { Commissions } from "./files/commissions.ts";
import { type FileLayer, refuse } from "./files/fileLayer.ts";
import type { ScanGrants } from "./files/scanGrants.ts";
import type { Opening } from "./services.ts";

/** What is opened where nothing was named and nothing is kept yet. */
export const FIRST_DEMO = "owl";

/**
 * What a start without a name opens: the demo for a first look; once there are kept commissions nothing, and the first
 * screen shows them, the latest first. A carver in the middle of weeks goes on with one click, and with the right one.
 */
export const firstArgument = async (commissions: Commissions): Promise<string | undefined> =>
	(await commissions.recents()).length > 0 ? undefined : FIRST_DEMO;

/**
 * Refuses what is neither a file nor a demo, and a commission that cannot be read. A commission's scans are looked for
 * beside it; where one is not there the window asks for it.
 */
export async function openingOf(
	argument: string | undefined,
	layer: FileLayer,
	grants: ScanGrants,
	folder = process.cwd(),
): Promise<Opening> {
	if (argument === undefined) return { kind: "nothing" };
	const path = resolve(folder, argument);
	const there = await layer.facts(path).catch(() => null);
	if (there === null) {
		if (seeds.some((seed) => seed.name === argument)) return { kind: "demo", name: argument };
		throw new Refusal("open.unknown", { argument, demos: seeds.map((seed) => seed.name).join(", ") });
	}
	if (!/\.(json|commission)$/i.test(path)) return { kind: "scan", grant: await grants.issue(path) };
	const bytes = await layer.read(path).catch((error) => refuse(error, path, "read"));
	const text = new TextDecoder().decode(bytes);
	const { scan, stone } = readCommission(text, basename(path));
	// The commission comes from anyone; its scans are plain names beside it, never a way to another folder.
	const leaveBeside = (file: string) =>
		grants.issue(join(dirname(path), basename(file))).catch((error: unknown) => {
			if (error instanceof Refusal) return null;
			throw error;
		});
	const grant = await leaveBeside(scan.file);
	return { kind: "commission", text, grant, stoneGrant: stone.scan && (await leaveBeside(stone.scan.file)) };
}
