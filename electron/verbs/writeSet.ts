/** Writing the files of one plan together: all of them stand there whole in the end, or the folder is as it was. */

import { randomBytes } from "node:crypto";
import { join } from "node:path";
import { type FileLayer, refuse } from "../files/fileLayer.ts";
import { PART } from "../files/replaceFile.ts";
import { Stopped } from "../runJob.ts";

export type FileSet = ReadonlyMap<string, Uint8Array | string>;

/**
 * Writes the files into the folder, made if need be. Files of an earlier plan that `isOurs` knows and the new set lacks are
 * taken away, so that sheets of two plans never lie together. Throws Stopped, with nothing changed, when `stop` comes
 * before the last byte is written.
 */
export async function writeSet(
	layer: FileLayer,
	folder: string,
	files: FileSet,
	isOurs: (name: string) => boolean,
	stop: { readonly aborted: boolean },
): Promise<void> {
	const ending = `.${randomBytes(6).toString("hex")}${PART}`;
	const written: string[] = [];
	let path = folder;
	try {
		await layer.makeFolder(folder);
		for (const [name, content] of files) {
			if (stop.aborted) throw new Stopped();
			path = join(folder, name);
			written.push(path);
			await layer.write(path + ending, typeof content === "string" ? new TextEncoder().encode(content) : content);
		}
		if (stop.aborted) throw new Stopped();
		const stale = (await layer.list(folder)).filter((one) => isOurs(one) && !one.endsWith(PART) && !files.has(one));
		// Renaming takes no room and no time worth speaking of: from here on it is carried through.
		for (path of written) await layer.rename(path + ending, path);
		for (const name of stale) {
			path = join(folder, name);
			await layer.remove(path);
		}
		await layer.flushFolder(folder);
	} catch (error) {
		for (const each of written) await layer.remove(each + ending).catch(() => {});
		if (error instanceof Stopped) throw error;
		refuse(error, path, "written");
	}
}
