/** A scan on the disk as a source of bytes, read piece by piece. */

import { closeSync, fstatSync, openSync, readSync } from "node:fs";
import { Refusal } from "../../core/refusal.ts";
import type { ScanSource } from "../../core/scan/source.ts";
import { refuse } from "./fileLayer.ts";

export interface FileSource extends ScanSource {
	close(): void;
}

/** Opens the file for reading; refuses what is missing, forbidden or a folder. */
export function openFileSource(path: string): FileSource {
	let file: number;
	try {
		file = openSync(path, "r");
	} catch (error) {
		return refuse(error, path, "read");
	}
	const facts = fstatSync(file);
	if (!facts.isFile()) {
		closeSync(file);
		throw new Refusal("files.folder", { path });
	}
	let buffer = new Uint8Array(0);
	return {
		size: facts.size,
		read(offset, length) {
			const wanted = Math.max(0, Math.min(length, facts.size - offset));
			if (buffer.length < wanted) buffer = new Uint8Array(wanted);
			let got = 0;
			while (got < wanted) {
				const n = readSync(file, buffer, got, wanted - got, offset + got);
				// The file was cut short while it was being read; the reader says what that means for the scan.
				if (n === 0) break;
				got += n;
			}
			return buffer.subarray(0, got);
		},
		close: () => closeSync(file),
	};
}
