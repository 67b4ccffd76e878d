/** Writing a file so that at every instant, power cut included, either the old bytes or the new ones stand there whole. */

import { randomBytes } from "node:crypto";
import { dirname } from "node:path";
import { type FileLayer, refuse, systemCode } from "./fileLayer.ts";

/** Ending of files that are not finished; whoever owns a folder may clear away old ones. */
export const PART = ".part";

/** A virus scanner may hold a fresh file for a moment, on Windows above all. */
const RENAME_TRIES = 6;
const RENAME_WAIT_MS = 25;

async function renameHeld(layer: FileLayer, from: string, to: string): Promise<void> {
	for (let attempt = 1; ; attempt++) {
		try {
			return await layer.rename(from, to);
		} catch (error) {
			const held = systemCode(error) === "EBUSY" || systemCode(error) === "EPERM";
			if (!held || attempt === RENAME_TRIES) throw error;
			await new Promise((resolve) => setTimeout(resolve, RENAME_WAIT_MS * attempt));
		}
	}
}

export interface Replacing {
	/** Where the new bytes are written first; a name by chance where it does not matter. */
	readonly part?: string;
	/** Asked once they are on the disk and before they take the file's place: a throw leaves the file as it is. */
	readonly check?: () => Promise<void>;
}

/**
 * Puts `bytes` at `path`, making its folder if need be. Refuses with a `files.…` code when the disk does; the file that
 * stood there is then untouched and nothing half-written is left beside it. Once it returns, the new bytes outlive a power
 * cut: they were on the disk before the rename, and the rename is on the disk too.
 */
export async function replaceFile(
	layer: FileLayer,
	path: string,
	bytes: Uint8Array,
	{ part = `${path}.${randomBytes(6).toString("hex")}${PART}`, check }: Replacing = {},
): Promise<void> {
	try {
		await layer.makeFolder(dirname(path));
		await layer.write(part, bytes);
		await check?.();
		await renameHeld(layer, part, path);
		await layer.flushFolder(dirname(path));
	} catch (error) {
		// The disk that refused the file may refuse this too; the first error is the one to report.
		await layer.remove(part).catch(() => {});
		refuse(error, path, "written");
	}
}
