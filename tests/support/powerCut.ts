/**
 * A disk in memory that forgets at a power cut what a real one may forget: a name given, moved or taken away outlives the
 * cut only once its folder has been flushed, a file cut off while it was written keeps only some of its bytes. After POSIX:
 * fsync of a file answers for its bytes, fsync of a folder for its names; a rename happens wholly or not at all.
 */

import type { FileLayer } from "../../electron/files/fileLayer.ts";

type Names = Map<string, Uint8Array>;
type Change = (names: Names) => void;

const noFile = (path: string): Error => Object.assign(new Error(`ENOENT: ${path}`), { code: "ENOENT" });

/** Thrown into the program at the cut; nothing it does afterwards reaches the disk. */
export class PowerCut extends Error {}

export interface PowerDisk {
	readonly layer: FileLayer;
	/** Steps done so far. */
	steps(): number;
	/** The disk as it may be found after the cut: `survives(i)` tells for each change that was not flushed. */
	found(survives: (change: number) => boolean): Names;
	/** Changes that a cut now may lose. */
	unflushed(): number;
}

/** `cutAt` counts the steps, from 1; the step of that number is cut in the middle. A disk that begins as `names` say. */
export function powerDisk(names: Names = new Map(), cutAt = Number.POSITIVE_INFINITY): PowerDisk {
	const now: Names = new Map(names);
	const safe: Names = new Map(names);
	const pending: Change[] = [];
	let steps = 0;
	let dead = false;
	/** Whether this very step is cut. */
	const step = (): boolean => {
		if (dead) throw new PowerCut();
		dead = ++steps === cutAt;
		return dead;
	};
	const change = (deed: Change): void => {
		deed(now);
		pending.push(deed);
	};
	const stands = (path: string): Uint8Array => {
		const bytes = now.get(path);
		if (bytes === undefined) throw noFile(path);
		return bytes;
	};
	const cutOr = (cut: boolean): void => {
		if (cut) throw new PowerCut();
	};
	const layer: FileLayer = {
		async read(path) {
			if (dead) throw new PowerCut();
			return stands(path);
		},
		async write(path, bytes) {
			if (now.has(path)) throw Object.assign(new Error(`EEXIST: ${path}`), { code: "EEXIST" });
			const cut = step();
			change((on) => on.set(path, cut ? bytes.subarray(0, bytes.length >> 1) : bytes));
			cutOr(cut);
		},
		async rename(from, to) {
			const bytes = stands(from);
			const cut = step();
			change((on) => {
				on.delete(from);
				on.set(to, bytes);
			});
			cutOr(cut);
		},
		async remove(path) {
			stands(path);
			const cut = step();
			change((on) => void on.delete(path));
			cutOr(cut);
		},
		async makeFolder() {
			cutOr(step());
		},
		async list(folder) {
			if (dead) throw new PowerCut();
			return [...now.keys()]
				.filter((path) => path.startsWith(`${folder}/`))
				.map((path) => path.slice(folder.length + 1));
		},
		async facts(path) {
			if (dead) throw new PowerCut();
			return { size: stands(path).length, isFile: true, changedMs: 0 };
		},
		async flushFolder() {
			const cut = step();
			cutOr(cut);
			for (const deed of pending.splice(0)) deed(safe);
		},
	};
	return {
		layer,
		steps: () => steps,
		unflushed: () => pending.length,
		found(survives) {
			const left = new Map(safe);
			pending.forEach((deed, i) => {
				if (survives(i)) deed(left);
			});
			return left;
		},
	};
}
