/** Finding a scan again: where it lay, or under another name or in a folder close by, known by its SHA-256. */

import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { dirname, extname, join } from "node:path";
import { pipeline } from "node:stream/promises";
import type { FileLayer } from "./fileLayer.ts";

export interface LostScan {
	/** Where it lay when the commission was last kept. */
	readonly path: string;
	/** Bytes; a candidate of another size is not read. */
	readonly size: number;
	/** Lower-case hexadecimal; empty when it was never taken, and then only the old place counts. */
	readonly sha256: string;
}

/** Folders and files looked at before the search gives up, so that a home folder full of scans does not hold up the window. */
const MOST_FOLDERS = 60;
const MOST_HASHED = 6;

async function sha256Of(path: string): Promise<string> {
	const hash = createHash("sha256");
	await pipeline(createReadStream(path), hash);
	return hash.digest("hex");
}

/** The scan's path now, or null when it is not found. Looks in its old folder, the folders in that, and the one above. */
export async function findScan(layer: FileLayer, scan: LostScan): Promise<string | null> {
	const there = await layer.facts(scan.path).catch(() => null);
	if (there?.isFile) return scan.path;
	if (scan.sha256 === "") return null;
	const home = dirname(scan.path);
	const folders = [home, dirname(home)];
	let hashed = 0;
	for (let i = 0; i < folders.length && i < MOST_FOLDERS; i++) {
		const names = (await layer.list(folders[i]).catch(() => [])).sort();
		for (const name of names) {
			const path = join(folders[i], name);
			const facts = await layer.facts(path).catch(() => null);
			if (facts && !facts.isFile && i < 2 && !folders.includes(path)) folders.push(path);
			if (!facts?.isFile || facts.size !== scan.size) continue;
			if (extname(name).toLowerCase() !== extname(scan.path).toLowerCase() || ++hashed > MOST_HASHED) continue;
			if ((await sha256Of(path).catch(() => "")) === scan.sha256) return path;
		}
	}
	return null;
}
