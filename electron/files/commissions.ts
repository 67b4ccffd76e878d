/**
 * The commissions of this person, each kept whole at every change: the text as the window sent it, the text as it stood
 * before the window that writes now, and beside them what only this machine knows (where its scans lie).
 */

import { createHash } from "node:crypto";
import { join } from "node:path";
import { z } from "zod";
import { Refusal } from "../../core/refusal.ts";
import type { Reply } from "../bridge/contract.ts";
import { type FileLayer, refuse, systemCode } from "./fileLayer.ts";
import { findScan } from "./findScan.ts";
import { PART, replaceFile } from "./replaceFile.ts";

const TEXT = ".commission.json";
const EARLIER = ".earlier.json";
const ABOUT = ".about.json";
/** Recent commissions shown in the day book. */
const MOST_RECENT = 12;
/** An unfinished file of that age belongs to a program that is gone. */
const STALE_PART_MS = 60_000;

// Kept even where a finer rule is broken: refusing to save would lose work, and reading parses it strictly again.
const outline = z.looseObject({
	format: z.literal("puntello-commission"),
	name: z.string().default("commission"),
	scan: z.looseObject({ file: z.string(), sha256: z.string().default("") }),
	stone: z
		.looseObject({ scan: z.looseObject({ file: z.string(), sha256: z.string() }).nullable() })
		.catch({ scan: null }),
});

const aboutSchema = z.strictObject({
	name: z.string(),
	scan: z.string(),
	sha256: z.string(),
	changed: z.string(),
	scanPath: z.string().nullable(),
	scanSize: z.number().nullable(),
	/** The stone's own scan, if it has one. */
	stone: z
		.strictObject({
			file: z.string(),
			sha256: z.string(),
			path: z.string().nullable(),
			size: z.number().nullable(),
		})
		.nullable()
		.default(null),
	/** The window that wrote last, and the version of what it wrote. */
	writer: z.string().default(""),
	version: z.string().default(""),
});
type About = z.output<typeof aboutSchema>;

export interface KeepingAs {
	/** null keeps the path known so far, while the scan is the same one. */
	readonly scanPath: string | null;
	/** The same of the stone's scan. */
	readonly stonePath: string | null;
	/** The window that asks. */
	readonly writer: string;
	/** Version of the text that the window began with, or null. */
	readonly seen: string | null;
}

export interface Recalled {
	readonly text: string;
	readonly version: string;
	/** The text itself was spoilt; this one stood there before the last session. */
	readonly earlier: boolean;
	/** Where the scan lies now, or null when that is not known or not found. */
	readonly scanPath: string | null;
	/** The same of the stone's scan. */
	readonly stonePath: string | null;
}

export interface Commissions {
	/**
	 * Replaces what was kept under that id. Refuses "files.changedMeanwhile" where the text there is neither the one that
	 * this window began with nor one of its own: another window, or another program, has been at it.
	 */
	keep(id: string, text: string, as: KeepingAs): Promise<{ changed: string }>;
	recall(id: string): Promise<Recalled>;
	/** Latest first. */
	recents(): Promise<Reply<"hello">["recents"]>;
}

const versionOf = (bytes: Uint8Array): string => createHash("sha256").update(bytes).digest("hex");

const isJson = (text: string): boolean => {
	try {
		JSON.parse(text);
		return true;
	} catch {
		return false;
	}
};

function outlineOf(text: string): z.output<typeof outline> {
	let value: unknown;
	try {
		value = JSON.parse(text);
	} catch {
		throw new Refusal("files.notACommission", { found: "it is not JSON" });
	}
	const parsed = outline.safeParse(value);
	if (parsed.success) return parsed.data;
	const issue = parsed.error.issues[0];
	throw new Refusal("files.notACommission", { found: `${issue.path.join(".") || "the whole"}: ${issue.message}` });
}

export function createCommissions(layer: FileLayer, home: string, now: () => Date = () => new Date()): Commissions {
	const folder = join(home, "commissions");
	const pathOf = (id: string, ending: string) => join(folder, id + ending);
	// One write at a time for each commission, so that the last text sent is the one that stays.
	const queues = new Map<string, Promise<unknown>>();
	const encoder = new TextEncoder();
	const decoder = new TextDecoder();

	async function readAbout(id: string): Promise<About | null> {
		const bytes = await layer.read(pathOf(id, ABOUT)).catch(() => null);
		if (!bytes) return null;
		try {
			return aboutSchema.parse(JSON.parse(decoder.decode(bytes)));
		} catch {
			return null;
		}
	}

	/** The bytes kept under that id, or null where there are none. */
	async function readBytes(id: string): Promise<Uint8Array | null> {
		const path = pathOf(id, TEXT);
		try {
			return await layer.read(path);
		} catch (error) {
			return systemCode(error) === "ENOENT" ? null : refuse(error, path, "read");
		}
	}

	async function readText(id: string): Promise<string> {
		const bytes = await readBytes(id);
		if (bytes === null) throw new Refusal("files.noCommission", { id });
		return decoder.decode(bytes);
	}

	async function keepNow(
		id: string,
		text: string,
		{ scanPath, stonePath, writer, seen }: KeepingAs,
	): Promise<{ changed: string }> {
		const { name, scan, stone } = outlineOf(text);
		const changed = now().toISOString();
		const known = await readAbout(id);
		const there = await readBytes(id);
		if (there !== null) {
			const version = versionOf(there);
			const own = known?.writer === writer && known.version === version;
			if (version !== seen && !own) throw new Refusal("files.changedMeanwhile", { name });
			// How it stood before this window: a way back when the file is spoilt from outside.
			if (known?.writer !== writer && isJson(decoder.decode(there)))
				await replaceFile(layer, pathOf(id, EARLIER), there);
		}
		const bytes = encoder.encode(text);
		await replaceFile(layer, pathOf(id, TEXT), bytes);
		const before = known?.scan === scan.file ? { path: known.scanPath, size: known.scanSize } : null;
		const { path, size } = await whereabouts(scanPath, before);
		const { file, sha256 } = stone.scan ?? {};
		// Scans of stones are often named alike, and are told apart by their fingerprint.
		const stoneBefore = known?.stone?.file === file && known?.stone?.sha256 === sha256 ? known?.stone : null;
		const about: About = {
			name,
			scan: scan.file,
			sha256: scan.sha256,
			changed,
			scanPath: path,
			scanSize: size,
			stone: stone.scan && {
				file: stone.scan.file,
				sha256: stone.scan.sha256,
				...(await whereabouts(stonePath, stoneBefore ?? null)),
			},
			writer,
			version: versionOf(bytes),
		};
		await replaceFile(layer, pathOf(id, ABOUT), encoder.encode(JSON.stringify(about, null, "\t")));
		return { changed };
	}

	/** Where a scan lies and its size: by the path given now, or as it was known before. */
	async function whereabouts(
		given: string | null,
		before: { readonly path: string | null; readonly size: number | null } | null,
	): Promise<{ path: string | null; size: number | null }> {
		const path = given ?? before?.path ?? null;
		if (path === null) return { path, size: null };
		const size = await layer.facts(path).then(
			(facts) => facts.size,
			() => before?.size ?? null,
		);
		return { path, size };
	}

	/** The scan's path now, or null when that is not known or it is not found. */
	const pathNow = async (path: string | null, size: number | null, sha256: string): Promise<string | null> =>
		path === null ? null : findScan(layer, { path, size: size ?? -1, sha256 });

	/** What is known of a commission whose about file is gone: read from its text, without the scan's place. */
	async function rebuiltAbout(id: string): Promise<About | null> {
		try {
			const { name, scan } = outlineOf(await readText(id));
			const { changedMs } = await layer.facts(pathOf(id, TEXT));
			const changed = new Date(changedMs).toISOString();
			const { file, sha256 } = scan;
			const nowhere = { scanPath: null, scanSize: null, stone: null };
			return { name, scan: file, sha256, changed, ...nowhere, writer: "", version: "" };
		} catch {
			return null;
		}
	}

	async function clearStaleParts(names: readonly string[]): Promise<void> {
		for (const name of names.filter((n) => n.endsWith(PART))) {
			const path = join(folder, name);
			const facts = await layer.facts(path).catch(() => null);
			if (facts && now().getTime() - facts.changedMs > STALE_PART_MS) await layer.remove(path).catch(() => {});
		}
	}

	return {
		keep(id, text, as) {
			const before = queues.get(id) ?? Promise.resolve();
			const next = () => keepNow(id, text, as);
			const done = before.then(next, next);
			queues.set(id, done);
			return done;
		},
		async recall(id) {
			const bytes = await readBytes(id);
			const before = await layer.read(pathOf(id, EARLIER)).catch(() => null);
			if (bytes === null && before === null) throw new Refusal("files.noCommission", { id });
			const earlier = before !== null && (bytes === null || !isJson(decoder.decode(bytes)));
			const text = decoder.decode((earlier ? before : bytes) ?? undefined);
			// What the window has seen is the file as it is, spoilt or not: its next text takes that place.
			const version = versionOf(bytes ?? new Uint8Array());
			const about = await readAbout(id);
			const scanPath = about && (await pathNow(about.scanPath, about.scanSize, about.sha256));
			const { path = null, size = null, sha256 = "" } = about?.stone ?? {};
			return { text, version, earlier, scanPath, stonePath: await pathNow(path, size, sha256) };
		},
		async recents() {
			const names = await layer.list(folder).catch(() => []);
			await clearStaleParts(names);
			const ids = names.filter((n) => n.endsWith(TEXT)).map((n) => n.slice(0, -TEXT.length));
			const found = await Promise.all(
				ids.map(async (id) => ({ id, about: (await readAbout(id)) ?? (await rebuiltAbout(id)) })),
			);
			return found
				.flatMap(({ id, about }) => (about ? [{ id, name: about.name, scan: about.scan, changed: about.changed }] : []))
				.sort((a, b) => (a.changed < b.changed ? 1 : a.changed > b.changed ? -1 : a.id < b.id ? -1 : 1))
				.slice(0, MOST_RECENT);
		},
	};
}
