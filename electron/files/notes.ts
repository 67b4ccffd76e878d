/** What only this machine knows of a kept commission: where its scans lie, and which window wrote it last. */

import { z } from "zod";
import { Refusal } from "../../core/refusal.ts";
import type { FileLayer } from "./fileLayer.ts";
import { findScan } from "./findScan.ts";

// Kept even where a finer rule is broken: refusing to save would lose work, and reading parses it strictly again.
const outlineSchema = z.looseObject({
	format: z.literal("puntello-commission"),
	name: z.string().default("commission"),
	scan: z.looseObject({ file: z.string(), sha256: z.string().default("") }),
	stone: z
		.looseObject({ scan: z.looseObject({ file: z.string(), sha256: z.string() }).nullable() })
		.catch({ scan: null }),
});
export type Outline = z.output<typeof outlineSchema>;

/** Path and size of a scan, as far as they are known. */
const place = { path: z.string().nullable(), size: z.number().nullable() };

const notesSchema = z.object({
	name: z.string(),
	scan: z.string(),
	sha256: z.string(),
	changed: z.string(),
	scanPath: place.path,
	scanSize: place.size,
	/** The stone's own scan, if it has one. */
	stone: z
		.object({ file: z.string(), sha256: z.string(), ...place })
		.nullable()
		.default(null),
	/** The window that wrote last. */
	writer: z.string().default(""),
});
export type Notes = z.output<typeof notesSchema>;

/** Paths of the scans given with a text; null keeps the path known so far, while the scan is the same one. */
export interface ScanPaths {
	readonly scanPath: string | null;
	readonly stonePath: string | null;
}

/** Refuses what is no commission at all. */
export function outlineOf(text: string): Outline {
	let value: unknown;
	try {
		value = JSON.parse(text);
	} catch {
		throw new Refusal("files.notACommission", { found: "it is not JSON" });
	}
	const parsed = outlineSchema.safeParse(value);
	if (parsed.success) return parsed.data;
	const issue = parsed.error.issues[0];
	throw new Refusal("files.notACommission", { found: `${issue.path.join(".") || "the whole"}: ${issue.message}` });
}

/** The notes in these bytes, or null where there are none or they cannot be read. */
export function readNotes(bytes: Uint8Array | null): Notes | null {
	try {
		return bytes && notesSchema.parse(JSON.parse(new TextDecoder().decode(bytes)));
	} catch {
		return null;
	}
}

/** Notes made from the text alone; where the scans lie is not known then. */
export const bareNotes = ({ name, scan: { file, sha256 } }: Outline, changed: string): Notes => ({
	...{ name, scan: file, sha256, changed },
	...{ scanPath: null, scanSize: null, stone: null, writer: "" },
});

/** The notes that go with a text which is kept now. */
export async function notesFor(
	layer: FileLayer,
	{ name, scan, stone }: Outline,
	paths: ScanPaths,
	known: Notes | null,
	by: Pick<Notes, "writer" | "changed">,
): Promise<Notes> {
	const before = known?.scan === scan.file ? { path: known.scanPath, size: known.scanSize } : null;
	const { path, size } = await whereabouts(layer, paths.scanPath, before);
	const { file, sha256 } = stone.scan ?? {};
	// Scans of stones are often named alike, and are told apart by their fingerprint.
	const stoneBefore = known?.stone?.file === file && known?.stone?.sha256 === sha256 ? known?.stone : null;
	return {
		...{ name, scan: scan.file, sha256: scan.sha256, scanPath: path, scanSize: size },
		stone: stone.scan && {
			file: stone.scan.file,
			sha256: stone.scan.sha256,
			...(await whereabouts(layer, paths.stonePath, stoneBefore ?? null)),
		},
		...by,
	};
}

interface Place {
	readonly path: string | null;
	readonly size: number | null;
}

/** Where a scan lies and its size: by the path given now, or as it was known before. */
async function whereabouts(layer: FileLayer, given: string | null, before: Place | null): Promise<Place> {
	const path = given ?? before?.path ?? null;
	if (path === null) return { path, size: null };
	const size = await layer.facts(path).then(
		(facts) => facts.size,
		() => before?.size ?? null,
	);
	return { path, size };
}

/** Paths of the scans now, each null when it is not known or not found. */
export async function findScans(layer: FileLayer, notes: Notes | null): Promise<ScanPaths> {
	const pathNow = async ({ path, size }: Place, sha256: string) =>
		path === null ? null : findScan(layer, { path, size: size ?? -1, sha256 });
	const nowhere: Place & { sha256: string } = { path: null, size: null, sha256: "" };
	const stone = notes?.stone ?? nowhere;
	return {
		scanPath: notes && (await pathNow({ path: notes.scanPath, size: notes.scanSize }, notes.sha256)),
		stonePath: await pathNow(stone, stone.sha256),
	};
}
