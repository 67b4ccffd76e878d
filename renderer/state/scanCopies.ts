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
	readonly file: File;
	/** ms since 1970 */
	readonly at: number;
}

/** Copies kept; the oldest goes first. */
const MOST = 6;

export function browserCopies(): ScanCopies {
	return {
		async keep(sha256, file) {
			const before = await readFrom<Copy[]>("scans", (table) => table.getAll());
			const others = before.filter((copy) => copy.sha256 !== sha256).sort((a, b) => b.at - a.at);
			await writeTo("scans", (table) => {
				for (const old of others.slice(MOST - 1)) table.delete(old.sha256);
				table.put({ sha256, file, at: Date.now() } satisfies Copy);
			});
		},
		async find(sha256) {
			if (sha256 === "") return null;
			const found = await readFrom<Copy | undefined>("scans", (table) => table.get(sha256)).catch(() => undefined);
			return found?.file ?? null;
		},
	};
}
