/**
 * The journal of a kept commission: its next text, written whole and put on the disk before it takes the place of the one
 * that stands there. It is the very file that is then renamed over it, so nothing is written twice.
 *
 * It is not a log of single changes to be played back: a commission is one small document, each change may touch all of
 * it, and a log would have to be cut, merged and proved against the document for nothing. What a journal has to give is
 * given by the file's name: from which text it leads to which (`<file>.<from>-<to>.part`, fingerprints). A program that
 * ended between writing and renaming leaves it behind; whoever reads the commission next takes it for the newest text
 * exactly where it is whole (its bytes have the fingerprint `to`) and still the next one (`from` is what stands there).
 * Reading leaves it where it is, because its writer may be alive and about to rename it.
 */

import { createHash } from "node:crypto";
import { basename, dirname, join } from "node:path";
import type { FileLayer } from "./fileLayer.ts";
import { PART } from "./replaceFile.ts";

/** SHA-256, lower-case hexadecimal. */
export const versionOf = (bytes: Uint8Array): string => createHash("sha256").update(bytes).digest("hex");

const DIGITS = 16;
const mark = (version: string | null): string => version?.slice(0, DIGITS) ?? "0".repeat(DIGITS);
const FORM = new RegExp(`^(.+)\\.([0-9a-f]{${DIGITS}})-([0-9a-f]{${DIGITS}})\\${PART}$`);

export interface JournalName {
	/** Name of the file whose next text it holds. */
	readonly of: string;
	readonly from: string;
	readonly to: string;
}

/** Where the text that is to follow is written; `from` is the version that stands there, or null for none. */
export const journalPath = (path: string, from: string | null, to: string): string =>
	`${path}.${mark(from)}-${mark(to)}${PART}`;

/** What the name of a journal says, or null for any other file. */
export function readJournalName(name: string): JournalName | null {
	const [, of, from, to] = FORM.exec(name) ?? [];
	return of === undefined ? null : { of, from, to };
}

async function journalsFrom(layer: FileLayer, path: string, from: string | null) {
	const names = await layer.list(dirname(path)).catch(() => []);
	return names.flatMap((name) => {
		const journal = readJournalName(name);
		const next = journal?.of === basename(path) && journal.from === mark(from);
		return next ? [{ path: join(dirname(path), name), to: journal.to }] : [];
	});
}

/** The whole text that was to follow the one of version `from`, or null where there is none. */
export async function readJournal(layer: FileLayer, path: string, from: string | null): Promise<Uint8Array | null> {
	let found: { readonly bytes: Uint8Array; readonly changedMs: number } | null = null;
	for (const journal of await journalsFrom(layer, path, from)) {
		const bytes = await layer.read(journal.path).catch(() => null);
		if (bytes === null || mark(versionOf(bytes)) !== journal.to) continue;
		const { changedMs } = await layer.facts(journal.path).catch(() => ({ changedMs: 0 }));
		if (found === null || changedMs > found.changedMs) found = { bytes, changedMs };
	}
	return found?.bytes ?? null;
}

/** Whether the file of that path is a journal that still has to be read: whole, and the next of what stands beside it. */
export async function isUnread(layer: FileLayer, path: string): Promise<boolean> {
	const journal = readJournalName(basename(path));
	if (journal === null) return false;
	const there = await layer.read(join(dirname(path), journal.of)).catch(() => null);
	if (journal.from !== mark(there && versionOf(there))) return false;
	const bytes = await layer.read(path).catch(() => null);
	return bytes !== null && mark(versionOf(bytes)) === journal.to;
}

/** Clears away what was to follow the version `from`, once another text has taken its place. */
export async function clearJournals(layer: FileLayer, path: string, from: string | null): Promise<void> {
	for (const journal of await journalsFrom(layer, path, from)) await layer.remove(journal.path).catch(() => {});
}
