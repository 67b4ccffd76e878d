/** What a window is asked to open: a scan, a commission or a demo named on the command line or by the system. */

import { basename, dirname, join, resolve } from "node:path";
import { readCommission } from "../core/plan/readDocument.ts";
import { Refusal } from "../core/refusal.ts";
import { seeds } from "../seeds/index.ts";
import { type FileLayer, refuse } from "./files/fileLayer.ts";
import type { ScanGrants } from "./files/scanGrants.ts";
import type { Opening } from "./services.ts";

/**
 * Refuses what is neither a file nor a demo, and a commission that cannot be read. A commission's scan is looked for beside
 * it; where it is not there the window asks for it.
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
	const { scan } = readCommission(text, basename(path));
	// The commission comes from anyone; its scan is a plain name beside it, never a way to another folder.
	const beside = join(dirname(path), basename(scan.file));
	const grant = await grants.issue(beside).catch((error: unknown) => {
		if (error instanceof Refusal) return null;
		throw error;
	});
	return { kind: "commission", text, grant };
}
