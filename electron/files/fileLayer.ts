/**
 * The few things that Puntello asks of a disk, behind an interface of its own, so that the tests can inject what a real
 * disk does only on a bad day (full, read-only, in use).
 */

import { mkdir, open, readdir, readFile, rename, stat, unlink } from "node:fs/promises";
import { Refusal } from "../../core/refusal.ts";

export interface FileFacts {
	readonly size: number;
	readonly isFile: boolean;
	/** Milliseconds since 1970. */
	readonly changedMs: number;
}

/** Every method rejects with the system's error, whose `code` says what was wrong. */
export interface FileLayer {
	read(path: string): Promise<Uint8Array>;
	/** Creates the file, which must not exist yet, and returns when its bytes are on the disk. */
	write(path: string, bytes: Uint8Array): Promise<void>;
	rename(from: string, to: string): Promise<void>;
	remove(path: string): Promise<void>;
	/** Creates the folder and those above it; no error when it is there. */
	makeFolder(path: string): Promise<void>;
	/** Names in the folder, without their path. */
	list(folder: string): Promise<string[]>;
	facts(path: string): Promise<FileFacts>;
	/** Puts the folder's own entries on the disk, so that a rename outlives a power cut. */
	flushFolder(path: string): Promise<void>;
}

export const nodeFiles: FileLayer = {
	read: (path) => readFile(path),
	async write(path, bytes) {
		const file = await open(path, "wx");
		try {
			await file.writeFile(bytes);
			await file.sync();
		} finally {
			await file.close();
		}
	},
	rename,
	remove: unlink,
	async makeFolder(path) {
		await mkdir(path, { recursive: true });
	},
	list: (folder) => readdir(folder),
	async facts(path) {
		const found = await stat(path);
		return { size: found.size, isFile: found.isFile(), changedMs: found.mtimeMs };
	},
	async flushFolder(path) {
		// Windows does not open folders and keeps its entries safe by itself.
		if (process.platform === "win32") return;
		const folder = await open(path, "r");
		try {
			await folder.sync();
		} finally {
			await folder.close();
		}
	},
};

const CODES: Readonly<Record<string, string>> = {
	ENOSPC: "files.full",
	EDQUOT: "files.full",
	EACCES: "files.denied",
	EPERM: "files.denied",
	EROFS: "files.denied",
	ENOENT: "files.missing",
	EISDIR: "files.folder",
	ENOTDIR: "files.notFolder",
	EBUSY: "files.busy",
};

/** The system's code of a file error ("ENOSPC"), or null where something else was thrown. */
export function systemCode(error: unknown): string | null {
	const code = error instanceof Error && "code" in error ? error.code : null;
	return typeof code === "string" && /^E[A-Z0-9]+$/.test(code) ? code : null;
}

/** Throws the refusal that answers to a file error; anything else is a defect and passes through. */
export function refuse(error: unknown, path: string, doing: "read" | "written"): never {
	const code = systemCode(error);
	if (code === null) throw error;
	throw new Refusal(CODES[code] ?? "files.failed", { path, doing, reason: code });
}
