/** All cuts of a commission in order: the carver's own, then the proposed ones, and the stone as it stands after them. */

import { type Job, within } from "../job.ts";
import { type Stone, stoneCut } from "../stone/block.ts";
import type { Hull } from "../stone/hull.ts";
import type { MassRange } from "../stone/mass.ts";
import type { SurfaceIndex } from "../surface/surfaceIndex.ts";
import { length, type Placement, scale, type Vec3 } from "../vector.ts";
import { type ConvexSolid, measuresOf, type Plane, solidOf } from "./convexSolid.ts";
import { type CutReport, describeCut } from "./describeCut.ts";
import { nextCut } from "./proposeCuts.ts";
import type { Saw } from "./saws.ts";
import { type Kept, sparedBody, spareOf } from "./spared.ts";
import { stopCuts } from "./stopCuts.ts";
import type { StopField } from "./stopField.ts";
import { removableWaste } from "./waste.ts";

export interface CutsWanted {
	readonly saw: Saw;
	/** Through cuts proposed after the carver's own, and fields of stop cuts after those. */
	readonly count: number;
	readonly stopCuts: number;
	readonly own: readonly { readonly normal: Vec3; readonly offset: number; readonly skipped: boolean }[];
}

export interface CutsInput {
	readonly stone: Stone;
	/** Of the figure, model frame. */
	readonly hull: Hull;
	readonly placement: Placement;
	/** Bosses, bridges, holding foot, marked corner; stone frame. */
	readonly kept: readonly Kept[];
	/** Faces on which the stone lies, the one that it lies on while it is sawn first. */
	readonly lieFaces: readonly string[];
	/** Of the figure, model frame. */
	readonly index: SurfaceIndex;
	/** kg/m³ */
	readonly density: readonly [number, number];
	readonly wanted: CutsWanted;
}

/** Why one of the carver's own cuts is not made. */
export type CutBar = "too near" | "misses" | "takes the lie" | "skipped";

interface Chosen {
	/** "cut 1" and so on, also the name of the face that it leaves. */
	readonly name: string;
	readonly by: "proposed" | "hand";
	/** Which of the carver's own, or −1. */
	readonly own: number;
	/** How much farther than it must the plane stays off what is nearest to it, mm. */
	readonly spare: number;
	readonly nearest: string;
}

export interface ThroughCut extends Chosen, CutReport {
	/** Share of the removable waste gone after it. */
	readonly share: number;
}

export interface BarredCut extends Chosen {
	readonly plane: Plane;
	readonly bar: CutBar;
}

export interface CutsAnswer {
	readonly saw: Saw;
	/** Removable waste, mm³. */
	readonly waste: number;
	readonly cuts: readonly ThroughCut[];
	/** The carver's own cuts that are not made. */
	readonly barred: readonly BarredCut[];
	readonly stopFields: readonly StopField[];
	/** The stone after the through cuts; its faces are named as the block's and by the cuts. */
	readonly left: Stone;
	/** mm³, and what it weighs, with the stop cuts knocked off. */
	readonly leftVolume: number;
	readonly leftMass: MassRange;
	/** The block and everything after it under the saw: the stone before cut k is `before[k]`. */
	readonly before: readonly ConvexSolid[];
}

/** A proposed cut frees at least this share of the removable waste, or there is no further one (common practice, no source). */
const LEAST_SHARE = 0.005;
/** A plane typed or dragged to the very limit is not refused for its last digit, mm. */
const SLACK = 1e-6;

export function* planCuts(input: CutsInput): Job<CutsAnswer> {
	const { stone, hull, placement, kept, lieFaces, density, wanted } = input;
	const { saw } = wanted;
	const spared = sparedBody(hull, placement, kept, saw.allowance + saw.kerf / 2);
	let solid = solidOf(stone);
	const waste = yield* within(removableWaste(solid, spared), 0, 0.2);
	const whole = measuresOf(solid).volume;
	const cuts: ThroughCut[] = [];
	const barred: BarredCut[] = [];
	const before: ConvexSolid[] = [];
	const make = (report: CutReport, chosen: Chosen): void => {
		before.push(solid);
		solid = report.left;
		cuts.push({ ...report, ...chosen, share: waste > 0 ? (whole - measuresOf(solid).volume) / waste : 1 });
	};
	const nextName = (): string => `cut ${cuts.length + 1}`;
	for (const [own, plane] of planesOf(wanted).entries()) {
		const chosen: Chosen = { name: nextName(), by: "hand", own, ...spareOf(spared, plane) };
		const judged = judge(solid, plane, chosen, input);
		if (typeof judged === "string") barred.push({ ...chosen, plane, bar: judged });
		else make(judged, chosen);
	}
	const bench = {
		spared,
		saw,
		lieFaces,
		unwanted: planesOf(wanted).flatMap(({ normal }, i) => (wanted.own[i].skipped ? [normal] : [])),
	};
	for (let k = 0; k < wanted.count; k++) {
		const from = 0.2 + (0.4 * k) / wanted.count;
		const plane = yield* within(nextCut(solid, bench, LEAST_SHARE * waste), from, from + 0.4 / wanted.count);
		const report = plane && describeCut(solid, plane, nextName(), lieFaces[0], saw, density);
		if (report === null) break;
		make(report, { name: nextName(), by: "proposed", own: -1, ...spareOf(spared, report.plane) });
	}
	const left = stoneCut(
		stone,
		cuts.map(({ name, plane }) => ({ name, ...plane })),
	);
	const { index } = input;
	const lieFace = lieFaces[0];
	const stops = { index, placement, kept, left, hull, saw, lieFace, density, count: wanted.stopCuts };
	const stopFields = yield* within(stopCuts(stops), 0.6, 1);
	const leftVolume = stopFields.reduce((volume, field) => volume - field.volume, left.volume);
	const kg = (d: number): number => (leftVolume / 1e9) * d;
	return { saw, waste, cuts, barred, stopFields, left, leftVolume, leftMass: [kg(density[0]), kg(density[1])], before };
}

/** The carver's planes with unit normals. */
const planesOf = ({ own }: CutsWanted): Plane[] =>
	own.map(({ normal, offset }) => {
		const l = length(normal);
		return { normal: l > 0 ? scale(normal, 1 / l) : [0, 0, 1], offset: l > 0 ? offset / l : Number.POSITIVE_INFINITY };
	});

function judge(
	solid: ConvexSolid,
	plane: Plane,
	{ name, own, spare }: Chosen,
	{ lieFaces, wanted, density }: CutsInput,
): CutReport | CutBar {
	if (wanted.own[own].skipped) return "skipped";
	if (spare < -SLACK) return "too near";
	const report = describeCut(solid, plane, name, lieFaces[0], wanted.saw, density);
	if (report === null) return "misses";
	return lieFaces.every((face) => report.left.names.includes(face)) ? report : "takes the lie";
}
