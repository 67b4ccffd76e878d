/** Stones as files: a scan of the stone (STL, PLY), a JSON file of its sides or faces, or a line of a list of sizes. */

import { readdirSync, readFileSync, statSync } from "node:fs";
import { basename, extname, join } from "node:path";
import { type Job, within } from "../../core/job.ts";
import type { OpenedScan } from "../../core/plan/answers.ts";
import type { Commission } from "../../core/plan/commission.ts";
import { openScan } from "../../core/plan/planner.ts";
import type { StoneShape } from "../../core/plan/stages/stoneShape.ts";
import { readStoneFile } from "../../core/plan/stoneFile.ts";
import { describedOfYard, listedBlock, listedStones, scannedOfYard } from "../../core/plan/yard.ts";
import { Refusal } from "../../core/refusal.ts";
import { MM_PER_UNIT, type Unit } from "../../core/scan/unit.ts";
import type { Vec3 } from "../../core/vector.ts";
import { refuse } from "../files/fileLayer.ts";
import { openFileSource } from "../files/fileSource.ts";
import { takeIn } from "./takeIn.ts";
import type { Shop } from "./verb.ts";

export type StoneSource =
	| { readonly kind: "file"; readonly path: string }
	| { readonly kind: "sides"; readonly name: string; readonly sides: Vec3 };

export interface StoneOnFile {
	readonly name: string;
	readonly shape: StoneShape;
	/** From the stone frame to the file's own coordinates in mm: add this. */
	readonly toFile: Vec3;
	readonly unit: Unit;
}

const isScan = (path: string): boolean => [".stl", ".ply"].includes(extname(path).toLowerCase());
const isList = (path: string): boolean => [".txt", ".csv"].includes(extname(path).toLowerCase());

function read(path: string): string {
	try {
		return readFileSync(path, "utf8");
	} catch (error) {
		return refuse(error, path, "read");
	}
}

/** The stone of a source; a scan's unit is taken from its size unless given. Refuses what is no stone. */
export function* openStone(source: StoneSource, unit: Unit | undefined): Job<StoneOnFile> {
	if (source.kind === "sides") {
		const shape = yield* describedOfYard(listedBlock(source), source.name);
		return { name: source.name, shape, toFile: [0, 0, 0], unit: "mm" };
	}
	const name = basename(source.path);
	if (!isScan(source.path)) {
		const shape = yield* describedOfYard(readStoneFile(read(source.path), name), name);
		return { name, shape, toFile: shape.fromGiven, unit: "mm" };
	}
	const file = openFileSource(source.path);
	try {
		const scan = yield* within(openScan(file, name), 0, 0.5);
		const { shape, unit: settled } = yield* within(scannedOfYard(scan, unit), 0.5, 1);
		const mm = MM_PER_UNIT[settled];
		const [x, y, z] = scan.file.origin;
		const [sx, sy, sz] = shape.fromGiven;
		return { name, shape, toFile: [x * mm + sx, y * mm + sy, z * mm + sz], unit: settled };
	} finally {
		file.close();
	}
}

/** What a commission says of the stone in a file; a scan is named, and opened by `stoneScanOf`. */
export function describedIn(path: string): Partial<Commission["stone"]> {
	if (isScan(path)) return { given: "scan", scan: { file: basename(path), sha256: "", unit: null } };
	const { given, block_mm, breaks, measured_mm, planes } = readStoneFile(read(path), basename(path));
	return { given, block_mm, breaks, measured_mm, planes };
}

/** The stone's own scan where the commission names one: the file given, or that name beside the commission. */
export async function stoneScanOf(
	{ stone }: Commission,
	offcut: string | undefined,
	folder: string,
	shop: Shop,
): Promise<OpenedScan | null> {
	if (stone.given !== "scan" || !stone.scan) return null;
	return takeIn(offcut ?? join(folder, stone.scan.file), shop);
}

/** The stones of a yard: every stone file of a folder by name, or every line of a list of sizes ("step block, 400x300x200"). */
export function stonesOfYard(path: string): StoneSource[] {
	let isFolder: boolean;
	try {
		isFolder = statSync(path).isDirectory();
	} catch (error) {
		return refuse(error, path, "read");
	}
	const stones: StoneSource[] = [];
	if (isFolder) {
		const names = readdirSync(path).sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
		for (const name of names) {
			const inner = join(path, name);
			if (isScan(name) || extname(name).toLowerCase() === ".json") stones.push({ kind: "file", path: inner });
			else if (isList(name)) stones.push(...listed(inner));
		}
	} else if (isList(path)) stones.push(...listed(path));
	else stones.push({ kind: "file", path });
	if (stones.length === 0) throw new Refusal("stone.emptyYard", { path });
	return stones;
}

const listed = (path: string): StoneSource[] =>
	listedStones(read(path), path).map((stone) => ({ kind: "sides", ...stone }));
