/** What the worker hands to the window: answers without the planner's heavy arrays, and those arrays once, when they changed. */

import type { HandPlacement } from "../../core/bench/leftStone.ts";
import type { Verdict } from "../../core/bench/moved.ts";
import type { PlacedAnew } from "../../core/bench/placeAnew.ts";
import type { LeftPlane } from "../../core/bench/remains.ts";
import type { DatumSet } from "../../core/datum/datumSets.ts";
import type { QuickWishes } from "../../core/finish/quickQuote.ts";
import type {
	Answers,
	FinishAnswer,
	GildedArea,
	ModelAnswer,
	Outcome,
	SizesAnswer,
	StoneAnswer,
	ThicknessAnswer,
} from "../../core/plan/answers.ts";
import type { AnswerName } from "../../core/plan/answersByStages.ts";
import type { Commission } from "../../core/plan/commission.ts";
import type { Issue } from "../../core/refusal.ts";
import type { Finding } from "../../core/scan/findings.ts";
import type { ScanHealth } from "../../core/scan/health.ts";
import type { Unit, UnitProposal } from "../../core/scan/unit.ts";
import type { SheetMap } from "../../core/sheet/drawSheets.ts";
import type { Placement, Vec3 } from "../../core/vector.ts";
import type { DisplayMesh } from "./displayMesh.ts";
import type { Fresh, Holds } from "./ledger.ts";
import type { ScanHandle } from "./sources.ts";
import type { YardFigure } from "./yardJobs.ts";

export type PageName = "model" | "stone" | "points" | "bench" | "finish";

/** A scan that was opened and stands ready in the worker. */
export interface ScanShown {
	readonly name: string;
	readonly sha256: string;
	readonly format: string;
	/** What was found in the file, as data. */
	readonly notes: readonly Issue[];
	readonly health: Omit<ScanHealth, "places">;
	readonly unit: UnitProposal;
}

export interface StoneOpened {
	readonly name: string;
	readonly sha256: string;
	/** null where the size alone does not tell. */
	readonly unit: Unit | null;
}

/** A datum set's places on the surface; the seats stand in the plan. */
export interface DatumPlaces {
	readonly name: string;
	readonly suggested: boolean;
	readonly places: DatumSet["places"];
	/** The earlier set that it hangs on. */
	readonly linkTo: number | null;
}

/** What comes after the last point, without the arrays over triangles. */
export type FinishShown = Omit<FinishAnswer, "gilded"> & {
	readonly gilded: readonly Outcome<
		Omit<GildedArea, "region" | "marked"> & { area: number; lost: readonly number[] }
	>[];
};

/** The stone without the hulls, and of its scan only what it says of the stone. */
export type StoneShown = Omit<StoneAnswer, "hull" | "held" | "scanned"> & {
	/** Of the figure's hull with its holding foot, model frame, mm. */
	readonly corners: Float64Array;
	readonly scanned: { readonly volume: number; readonly over: number; readonly hollow: number } | null;
};
/** The model as it stands, without its arrays. */
export interface ModelShown extends Omit<ModelAnswer, "mesh" | "health"> {
	readonly health: Omit<ScanHealth, "places">;
}

export interface AnswersShown {
	readonly model: ModelShown | null;
	readonly resting: Answers["resting"];
	readonly cast: Answers["cast"];
	readonly stone: StoneShown | null;
	readonly cuts: Answers["cuts"];
	readonly datumSets: readonly DatumPlaces[];
	readonly plan: Answers["plan"];
	readonly sizes: SizesAnswer | null;
	readonly nature: Answers["nature"];
	readonly finish: FinishShown | null;
	readonly waits: Answers["waits"];
}

/** The cover that a round leaves, per vertex. */
export interface CoverMap {
	/** mm, NaN where not measured */
	readonly cover: Float32Array<ArrayBuffer>;
	/** 0 claimed, 1 by eye, 2 not reached by any line */
	readonly ground: Uint8Array<ArrayBuffer>;
}

/** Arrays over the display mesh's vertices. */
export interface MapsShown {
	/** 1/mm, positive where the surface bulges */
	readonly k1: Float32Array<ArrayBuffer> | null;
	readonly k2: Float32Array<ArrayBuffer> | null;
	/** Unit direction of k1 × 127, 3 a vertex. */
	readonly direction1: Int8Array<ArrayBuffer> | null;
	/** Root mean square error of a target, mm. */
	readonly seatError: Float32Array<ArrayBuffer> | null;
	readonly covers: readonly CoverMap[];
	/** Share of every vertex's ground that is to be gilded; null where nothing is. */
	readonly gilded: Float32Array<ArrayBuffer> | null;
}

export interface StoodUp {
	/** null: its unit is not known yet. */
	readonly mesh: DisplayMesh | null;
	/** As `mesh`: what is wrong with the model as it stands, and where. */
	readonly standing: Standing | null;
}

/** Known long before everything else has been worked out. Model frame, mm. */
export interface Standing {
	readonly model: ModelShown;
	readonly findings: readonly Finding[];
}

export interface ThicknessShown {
	/** mm per vertex of the display mesh, NaN where unknown */
	readonly thickness: Float32Array<ArrayBuffer>;
	/** 0 stout, 1 under 15 mm, 2 slender */
	readonly marks: Uint8Array<ArrayBuffer>;
	readonly parts: ThicknessAnswer["parts"];
}

/** An answer of the planner's that stands: whatever changes with it, and why something of its page is missing. */
export interface AnswerShown {
	readonly name: AnswerName;
	readonly page: "model" | "stone" | "points";
	readonly waits: readonly Issue[];
	/** By the name under which it is held. */
	readonly fresh: readonly (readonly [held: string, Fresh<ShownPart>])[];
}
export interface ShownPart {
	readonly answers: Partial<AnswersShown>;
	readonly maps: Partial<MapsShown>;
}

export interface SheetsOutput {
	readonly pdf: Uint8Array<ArrayBuffer>;
	readonly pages: number;
	readonly csv: string;
	readonly json: string;
	readonly maps: readonly SheetMap[];
}

export interface AnewAsked {
	/** A change that is wanted before all else: right, back, up, mm. */
	readonly wish: Vec3;
	/** Least scale that is allowed; 1: no reduction. */
	readonly leastScale: number;
	/** Planes beyond which stone is gone, besides the stone's faces. */
	readonly lost: readonly LeftPlane[];
}

export interface AnewShown {
	readonly placed: PlacedAnew;
	readonly hand: HandPlacement;
	/** By target of the answer. */
	readonly numbers: readonly number[];
	/** By plane of the answer. */
	readonly planes: readonly LeftPlane[];
}

export interface MovedShown {
	readonly verdict: Verdict;
	/** What each reading is of, and the bench's day. */
	readonly names: readonly string[];
	readonly day: string;
	/** By number of a point still to be drilled: how much farther out of the stone its stop must be set, mm. */
	readonly farther: readonly (readonly [number, number])[];
}

interface Worked {
	readonly commission: Commission;
	readonly holds: Holds;
}

/** Every job that the window can start. */
export type Jobs = {
	openScan: { input: { readonly handle: ScanHandle }; output: ScanShown };
	/** The scan of a stone: held beside the model's, told apart by its fingerprint. */
	openStone: { input: { readonly handle: ScanHandle }; output: StoneOpened };
	/** The best placement near the one in which the figure is held. */
	settle: {
		input: { readonly commission: Commission; readonly placement: Placement };
		output: { readonly quaternion: readonly [number, number, number, number]; readonly translation: Vec3 };
	};
	/** The figure as the workers of the yard are given it; its mesh only where a scanned stone is among them. */
	yardFigure: { input: { readonly commission: Commission; readonly scanned: boolean }; output: YardFigure };
	openDemo: { input: { readonly name: string }; output: ScanShown };
	/** The model as it stands, to look at while everything else is being worked out. */
	standUp: { input: Worked; output: Fresh<StoodUp> };
	thickness: { input: Worked; output: Fresh<ThicknessShown> };
	/** Every answer, each told as soon as it stands. */
	work: { input: Worked; part: AnswerShown; output: null };
	/** Which of the answers that the window holds are those to this commission as well. */
	stillStanding: { input: Worked; output: readonly AnswerName[] };
	sheets: { input: { readonly commission: Commission }; output: SheetsOutput };
	/** Whether anything has moved, from the log against the plan worked out last; null while no place was read again. */
	moved: { input: { readonly commission: Commission }; output: MovedShown | null };
	/** Templates of the faces, or the maps, at 1:1; null where there is nothing to draw. */
	fullSize: {
		input: { readonly commission: Commission; readonly what: "templates" | "maps" };
		output: { readonly pdf: Uint8Array<ArrayBuffer> | null };
	};
	/** Sheets of only the points that are left, as PDF. `day`: the bench's own. */
	left: {
		input: { readonly commission: Commission; readonly day: string };
		output: { readonly pdf: Uint8Array<ArrayBuffer> };
	};
	/** The figure placed anew in the stone that is left, from the log against the plan worked out last. */
	placeAnew: { input: { readonly commission: Commission; readonly asked: AnewAsked }; output: AnewShown };
	/** Offer and worksheet, of the plan worked out last, or of a figure before any scan. */
	quote: {
		input: { readonly commission: Commission; readonly quick: QuickWishes | null };
		output: { readonly offer: Uint8Array<ArrayBuffer>; readonly worksheet: Uint8Array<ArrayBuffer> };
	};
	/** The cut along the hole of a point of the plan worked out last, as SVG. */
	section: { input: { readonly commission: Commission; readonly number: number }; output: { readonly svg: string } };
};
