/**
 * A yard of stones beside the commission: lists of sizes and stone files, checked by workers of their own. It belongs to
 * the shop and not to one commission, so it stays while the window is open, whichever commission that is.
 */

import { signal } from "@preact/signals";
import type { Commission } from "../../core/plan/commission.ts";
import { stoneWith } from "../../core/plan/marginsUsed.ts";
import { readStoneFile } from "../../core/plan/stoneFile.ts";
import { listedBlock, listedStones, rankedYard } from "../../core/plan/yard.ts";
import { Refusal } from "../../core/refusal.ts";
import type { Unit } from "../../core/scan/unit.ts";
import { type LengthUnit, lengthNumber } from "../../core/text/format.ts";
import { refusalText } from "../../core/text/refusals.ts";
import { Cancelled, type JobFailed, type RunningJob } from "../jobs/jobClient.ts";
import { checkYard, type Hand, handsFor, newHand, type YardProgress } from "../jobs/yardCrew.ts";
import type { YardFigure, YardFit, YardStone } from "../jobs/yardJobs.ts";
import type { Session } from "./session.ts";
import { setTrouble } from "./ui.ts";

export interface YardRow {
	readonly name: string;
	readonly stone: YardStone;
	/** null where the stone could not be read; `reason` says why. */
	readonly fit: YardFit | null;
	readonly reason: string;
}

/** Stones of lists and files, in the order in which they were given. */
export const yardStones = signal<readonly YardStone[]>([]);
/** Of the yard's scans; null: each from its size. */
export const yardUnit = signal<Unit | null>(null);
/** What has been found so far, best first, and for which wishes. */
export const yardFound = signal<{ readonly wishes: string; readonly rows: readonly YardRow[] } | null>(null);
export const yardUnderWay = signal<(YardProgress & { readonly cancel: () => void }) | null>(null);

/** Documents are far smaller. */
const LARGEST_DOCUMENT = 64 * 1024 * 1024;

export const stoneName = (stone: YardStone): string =>
	stone.kind === "described" ? stone.name : stone.handle.kind === "file" ? stone.handle.file.name : stone.handle.name;

const keepRest = (names: ReadonlySet<string>): readonly YardStone[] =>
	yardStones.value.filter((stone) => !names.has(stoneName(stone)));

/** Takes stones in; one of the same name is replaced, for that is how a file is given again once it is mended. */
function takeStones(stones: readonly YardStone[]): void {
	yardStones.value = [...keepRest(new Set(stones.map(stoneName))), ...stones];
}

/** Adds every line of a list of sizes; answers what is wrong with it, or null. */
export function addList(text: string, name: string, unit: LengthUnit = "mm"): string | null {
	try {
		takeStones(
			listedStones(text, name, unit).map((line) => ({ kind: "described", name: line.name, stone: listedBlock(line) })),
		);
		return null;
	} catch (trouble) {
		if (trouble instanceof Refusal) return refusalText(trouble.issue);
		throw trouble;
	}
}

/** Adds stone files: scans are read when they are checked, lists and descriptions at once. All troubles are told together. */
export async function addFiles(files: readonly File[]): Promise<void> {
	const wrong: string[] = [];
	for (const file of files) {
		const { name } = file;
		if (/\.(stl|ply)$/i.test(name)) takeStones([{ kind: "scan", handle: { kind: "file", file }, unit: null }]);
		else if (!/\.(json|txt|csv)$/i.test(name) || file.size > LARGEST_DOCUMENT)
			wrong.push(`${name} is no stone: expected a scan (STL, PLY), a stone file (JSON) or a list of sizes (TXT, CSV).`);
		else if (/\.json$/i.test(name)) {
			try {
				takeStones([{ kind: "described", name, stone: readStoneFile(await file.text(), name) }]);
			} catch (trouble) {
				if (!(trouble instanceof Refusal)) throw trouble;
				wrong.push(refusalText(trouble.issue));
			}
		} else {
			const trouble = addList(await file.text(), name);
			if (trouble) wrong.push(trouble);
		}
	}
	setTrouble("yard", wrong.length > 0 ? wrong.join(" ") : null);
}

export function takeOut(stone: YardStone): void {
	yardStones.value = yardStones.value.filter((one) => one !== stone);
	const found = yardFound.value;
	if (found) yardFound.value = { ...found, rows: found.rows.filter((row) => row.stone !== stone) };
}

/** The figure and how it may lie, in one text: what a check of the yard holds for. */
export function wishesOf({ scan, model, stone }: Commission): string {
	const { margins_mm, otherMargin_mm, holdingFoot_mm, outOfTrue_mm, turning, tip_deg, searchUpTo, naturalBed } = stone;
	const { unit, mirrored, mend, back, sha256 } = scan;
	const lying = [margins_mm, otherMargin_mm, holdingFoot_mm, outOfTrue_mm, turning, tip_deg, searchUpTo, naturalBed];
	return JSON.stringify([unit, mirrored, mend, back, sha256, model, lying]);
}

/** The yard, and the sizes in stock of the commission. */
export function stonesToCheck({ stone }: Commission, units: LengthUnit): readonly YardStone[] {
	const stock = stone.stock_mm.map((sides): YardStone => {
		const name = `in stock, ${sides.map((side) => lengthNumber(side, units, 0)).join(" × ")}`;
		return { kind: "described", name, stone: listedBlock({ name, sides }) };
	});
	const scans = yardStones.value.map((one) => (one.kind === "scan" ? { ...one, unit: yardUnit.value } : one));
	return [...scans, ...stock];
}

const reasonOf = ({ issue, message }: JobFailed): string =>
	issue ? refusalText(issue) : `The planner met a defect of its own (${message}).`;

const ranked = (rows: readonly YardRow[]): readonly YardRow[] => rankedYard(rows, ({ fit }) => fit);

/** Checks the yard; `hand` makes a worker. Ends when every stone has its answer or the check was stopped. */
export async function checkTheYard(session: Session, hand: () => Hand = newHand): Promise<void> {
	const asked = session.commission.value;
	if (!asked || yardUnderWay.value) return;
	const stones = stonesToCheck(asked, session.units.value);
	if (stones.length === 0) return;
	setTrouble("yard", null);
	const wishes = wishesOf(asked);
	yardFound.value = { wishes, rows: [] };
	let running: RunningJob<unknown> = session.askYardFigure(stones.some(({ kind }) => kind === "scan"));
	yardUnderWay.value = { done: 0, of: stones.length, share: 0, cancel: () => running.cancel() };
	try {
		const figure = (await running.promise) as YardFigure;
		const crew = Array.from({ length: handsFor(stones.length) }, hand);
		running = checkYard(
			stones,
			figure,
			crew,
			(index, { fit, trouble }) => {
				const stone = stones[index];
				const row = { name: stoneName(stone), stone, fit, reason: trouble ? reasonOf(trouble) : "" };
				yardFound.value = { wishes, rows: ranked([...(yardFound.value?.rows ?? []), row]) };
			},
			(progress) => {
				if (yardUnderWay.value) yardUnderWay.value = { ...yardUnderWay.value, ...progress };
			},
		);
		await running.promise;
	} catch (trouble) {
		if (!(trouble instanceof Cancelled)) {
			const issue = trouble instanceof Error && "issue" in trouble ? (trouble as JobFailed).issue : null;
			setTrouble("yard", issue ? refusalText(issue) : String(trouble));
		}
	} finally {
		yardUnderWay.value = null;
	}
}

/** Puts a stone of the yard into the commission; answers the trouble, or null. */
export async function takeStone(session: Session, { stone, name }: YardRow): Promise<void> {
	if (stone.kind === "scan") {
		setTrouble("yard", await session.openStone(stone.handle, stone.unit));
		return;
	}
	const { given, block_mm, breaks, measured_mm, planes } = stone.stone;
	const taken = { given, block_mm, breaks, measured_mm, planes, byHand: null };
	setTrouble(
		"yard",
		session.change(`stone: ${name}`, (c) => ({ ...c, stone: stoneWith(c.stone, taken) })),
	);
}
