/**
 * Scans that were chosen by hand or dropped. A page is never told where such a file lies, so the browser keeps a copy, by
 * which the work goes on after the page was loaded anew, or another day, without asking for the scan again.
 */

import { readFrom, writeTo } from "./browserBase.ts";

export interface ScanCopies {
	/** Rejects where the browser has no room for it. */
	keep(sha256: string, file: File): Promise<void>;
	/** The scan of that fingerprint, or null. */
	find(sha256: string): Promise<File | null>;
}

interface Copy {
	readonly sha256: string;
	readonly name: string;
	readonly bytes: Blob;
	/** ms since 1970 */
	readonly at: number;
}

/** Copies kept; the oldest goes first. */
const MOST = 6;
/** Bytes of a scan that is worth the room, and of what is copied in one turn. */
const LARGEST = 600e6;
const PIECE = 8 << 20;

/** The bytes themselves: a file that is stored as such may be read from its old place, where it need not be any more. */
async function bytesOf(file: File): Promise<Blob> {
	const pieces: Blob[] = [];
	for (let at = 0; at < file.size; at += PIECE) pieces.push(new Blob([await file.slice(at, at + PIECE).arrayBuffer()]));
	return new Blob(pieces);
}

export function browserCopies(): ScanCopies {
	return {
		async keep(sha256, file) {
			if (file.size > LARGEST) throw new Error("too large for a copy");
			const bytes = await bytesOf(file);
			const before = await readFrom<Copy[]>("scans", (table) => table.getAll());
			const others = before.filter((copy) => copy.sha256 !== sha256).sort((a, b) => b.at - a.at);
			await writeTo("scans", (table) => {
				for (const old of others.slice(MOST - 1)) table.delete(old.sha256);
				table.put({ sha256, name: file.name, bytes, at: Date.now() } satisfies Copy);
			});
		},
		async find(sha256) {
			if (sha256 === "") return null;
			const found = await readFrom<Copy | undefined>("scans", (table) => table.get(sha256)).catch(() => undefined);
			return found ? new File([found.bytes], found.name) : null;
		},
	};
}
