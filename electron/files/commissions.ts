/**
 * The commissions of this person, each kept whole at every change: the text as the window sent it, its journal, the text
 * as it stood before the window that writes now, and beside them what only this machine knows.
 */

import { join } from "node:path";
import { Refusal } from "../../core/refusal.ts";
import type { Reply } from "../bridge/contract.ts";
import { type FileLayer, refuse, systemCode } from "./fileLayer.ts";
import { clearJournals, isUnread, journalPath, readJournal, readJournalName, versionOf } from "./journal.ts";
import { bareNotes, findScans, type Notes, notesFor, outlineOf, readNotes, type ScanPaths } from "./notes.ts";
import { PART, replaceFile } from "./replaceFile.ts";

const TEXT = ".commission.json";
const EARLIER = ".earlier.json";
const NOTES = ".about.json";
/** An unfinished file of that age belongs to a program that is gone. */
const STALE_PART_MS = 60_000;
/** The list of what was worked on lately need not know more exactly when; each note costs the disk as much as a text. */
const NOTED_WITHIN_MS = 10_000;
/** Commissions listed; older ones stay where they are kept. */
const MOST_RECENT = 200;

export interface KeepingAs extends ScanPaths {
	/** The window that asks. */
	readonly writer: string;
	/** Versions of the text that may stand there: the one that the window began with, and those of its own. */
	readonly seen: readonly string[];
}

export interface Recalled extends ScanPaths {
	readonly text: string;
	/** Of what stands there, which may be another text than this one. */
	readonly version: string;
	/** The text itself was spoilt; this one stood there before the last session. */
	readonly earlier: boolean;
}

export interface Commissions {
	/**
	 * Replaces what was kept under that id. Refuses "files.changedMeanwhile" where the text there is none that this window
	 * has seen: another window, or another program, has been at it. It is looked at again when the new text is on the disk
	 * and about to take its place: only a program that writes within that one step, a rename, is not noticed.
	 */
	keep(id: string, text: string, as: KeepingAs): Promise<{ changed: string }>;
	/** The newest whole text, be it that a program ended before it could put it in its place. */
	recall(id: string): Promise<Recalled>;
	/** Latest first. */
	recents(): Promise<Reply<"hello">["recents"]>;
	/** Once nothing is being written any more. */
	settled(): Promise<void>;
}

const isJson = (text: string): boolean => {
	try {
		JSON.parse(text);
		return true;
	} catch {
		return false;
	}
};

/** Whether the notes on the disk will do: all but the time of the last change is the same, and that nearly so. */
const sameNotes = (known: Notes, next: Notes): boolean =>
	(Object.keys(known) as (keyof Notes)[]).every(
		(key) => key === "changed" || JSON.stringify(known[key]) === JSON.stringify(next[key]),
	) && Math.abs(Date.parse(next.changed) - Date.parse(known.changed)) < NOTED_WITHIN_MS;

export function createCommissions(layer: FileLayer, home: string, now: () => Date = () => new Date()): Commissions {
	const folder = join(home, "commissions");
	const pathOf = (id: string, ending: string) => join(folder, id + ending);
	// One write at a time for each commission, so that the last text sent is the one that stays.
	const queues = new Map<string, Promise<unknown>>();
	const encoder = new TextEncoder();
	const decoder = new TextDecoder();

	/** The bytes kept under that id, or null where there are none. */
	async function readBytes(id: string): Promise<Uint8Array | null> {
		const path = pathOf(id, TEXT);
		try {
			return await layer.read(path);
		} catch (error) {
			return systemCode(error) === "ENOENT" ? null : refuse(error, path, "read");
		}
	}
	const notesOf = async (id: string): Promise<Notes | null> =>
		readNotes(await layer.read(pathOf(id, NOTES)).catch(() => null));
	const writeNotes = (id: string, notes: Notes): Promise<void> =>
		replaceFile(layer, pathOf(id, NOTES), encoder.encode(JSON.stringify(notes, null, "\t")));

	async function keepNow(
		id: string,
		text: string,
		{ writer, seen, ...paths }: KeepingAs,
	): Promise<{ changed: string }> {
		const outline = outlineOf(text);
		const changed = now().toISOString();
		const known = await notesOf(id);
		const there = await readBytes(id);
		const from = there && versionOf(there);
		const look = (version: string | null): void => {
			if (version !== null && !seen.includes(version))
				throw new Refusal("files.changedMeanwhile", { name: outline.name });
		};
		look(from);
		const notes = await notesFor(layer, outline, paths, known, { writer, changed });
		// The first text never stands there without a way to its scan.
		if (known === null) await writeNotes(id, notes);
		const bytes = encoder.encode(text);
		const to = versionOf(bytes);
		const path = pathOf(id, TEXT);
		if (from !== to) {
			const check = async (): Promise<void> => {
				const again = await readBytes(id);
				look(again && versionOf(again));
			};
			await replaceFile(layer, path, bytes, { part: journalPath(path, from, to), check });
		}
		await clearJournals(layer, path, from);
		// From here on the text is safe, and what follows takes its time from no change.
		// How it stood before this window: a way back when the file is spoilt from outside.
		if (there && known?.writer !== writer && isJson(decoder.decode(there)))
			await replaceFile(layer, pathOf(id, EARLIER), there);
		if (known !== null && !sameNotes(known, notes)) await writeNotes(id, notes);
		return { changed };
	}

	/** When a text whose notes are gone was kept, ISO 8601; a first text has not come farther than its journal, just now. */
	const changedAt = async (id: string): Promise<string> => {
		const facts = await layer.facts(pathOf(id, TEXT)).catch(() => null);
		return (facts ? new Date(facts.changedMs) : now()).toISOString();
	};

	async function recallText(id: string): Promise<Omit<Recalled, keyof ScanPaths>> {
		const bytes = await readBytes(id);
		// What the window has seen is the file as it is, spoilt or not: its next text takes that place.
		const version = versionOf(bytes ?? new Uint8Array());
		const next = await readJournal(layer, pathOf(id, TEXT), bytes && version);
		if (next !== null) return { text: decoder.decode(next), version, earlier: false };
		const before = await layer.read(pathOf(id, EARLIER)).catch(() => null);
		if (bytes === null && before === null) throw new Refusal("files.noCommission", { id });
		const earlier = before !== null && (bytes === null || !isJson(decoder.decode(bytes)));
		return { text: decoder.decode((earlier ? before : bytes) ?? undefined), version, earlier };
	}

	/** Clears away what programs that are gone have left unfinished, but no journal that still has to be read. */
	async function clearStaleParts(names: readonly string[]): Promise<void> {
		for (const name of names.filter((n) => n.endsWith(PART))) {
			const path = join(folder, name);
			const facts = await layer.facts(path).catch(() => null);
			if (!facts || now().getTime() - facts.changedMs <= STALE_PART_MS) continue;
			if (!(await isUnread(layer, path))) await layer.remove(path).catch(() => {});
		}
	}

	/** Ids of what is kept, a first text included that has not come farther than its journal. */
	const idsIn = (names: readonly string[]): string[] => {
		const texts = names.map((name) => readJournalName(name)?.of ?? name).filter((name) => name.endsWith(TEXT));
		return [...new Set(texts)].map((name) => name.slice(0, -TEXT.length));
	};

	return {
		keep(id, text, as) {
			const before = queues.get(id) ?? Promise.resolve();
			const next = () => keepNow(id, text, as);
			const done = before.then(next, next);
			queues.set(id, done);
			return done;
		},
		async recall(id) {
			const found = await recallText(id);
			return { ...found, ...(await findScans(layer, await notesOf(id))) };
		},
		async recents() {
			const names: string[] = await layer.list(folder).catch(() => []);
			await clearStaleParts(names);
			const listed = async (id: string) => {
				const rebuilt = async () => bareNotes(outlineOf((await recallText(id)).text), await changedAt(id));
				// Where only a journal stands it may be torn, and then there is nothing to go on with.
				const notes = names.includes(id + TEXT) ? ((await notesOf(id)) ?? (await rebuilt())) : await rebuilt();
				return { id, name: notes.name, scan: notes.scan, changed: notes.changed };
			};
			const found = await Promise.allSettled(idsIn(names).map(listed));
			return found
				.flatMap((one) => (one.status === "fulfilled" ? [one.value] : []))
				.sort((a, b) => (a.changed < b.changed ? 1 : a.changed > b.changed ? -1 : a.id < b.id ? -1 : 1))
				.slice(0, MOST_RECENT);
		},
		async settled() {
			await Promise.allSettled(queues.values());
		},
	};
}
