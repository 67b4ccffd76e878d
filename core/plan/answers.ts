/** What the planner answers to a scan and a commission: everything that the window draws and the plan document tells. */

import type { CurvatureField } from "../curvature/principalCurvatures.ts";
import type { CutsAnswer } from "../cuts/planCuts.ts";
import type { DatumSet } from "../datum/datumSets.ts";
import type { ThinPart } from "../drilling/thinParts.ts";
import type { FinishedGround } from "../finish/detail.ts";
import type { FixingAnswer } from "../finish/fixing.ts";
import type { LeafCount } from "../finish/gilding.ts";
import type { GradeChain } from "../finish/grades.ts";
import type { Quantities, Quote } from "../finish/quote.ts";
import type { Workday } from "../finish/workdays.ts";
import type { CastCheck } from "../model/castCheck.ts";
import type { RestingFace } from "../model/restingFaces.ts";
import type { RoundReport } from "../pointing/rounds.ts";
import type { Issue } from "../refusal.ts";
import type { ScanHealth } from "../scan/health.ts";
import type { MendStep } from "../scan/mend.ts";
import type { TriangleMesh } from "../scan/mesh.ts";
import type { ScanFile } from "../scan/readScan.ts";
import type { ShellList } from "../scan/shellList.ts";
import type { UnitProposal } from "../scan/unit.ts";
import type { Stone } from "../stone/block.ts";
import type { StoneFit } from "../stone/fitBlock.ts";
import type { Hull } from "../stone/hull.ts";
import type { LeastAngle } from "../stone/leastAngle.ts";
import type { MeasuredBlock } from "../stone/measuredBlock.ts";
import type { WayUp } from "../stone/otherWayUp.ts";
import type { ScannedStone } from "../stone/scannedStone.ts";
import type { LargestScale, SmallestBlock } from "../stone/sizes.ts";
import type { StockAnswer } from "../stone/stock.ts";
import type { SurfaceIndex } from "../surface/surfaceIndex.ts";
import type { SurfaceRegion } from "../surface/surfaceRegion.ts";
import type { Vec3 } from "../vector.ts";
import type { Commission, Unit } from "./commission.ts";
import type { Plan } from "./planFile.ts";
import type { NatureAnswer } from "./stages/flawStages.ts";

/** A scan as it was opened; never changed afterwards. */
export interface OpenedScan {
	readonly name: string;
	/** Lower-case hexadecimal SHA-256 of the file. */
	readonly sha256: string;
	readonly file: ScanFile;
	/** Of the file's mesh, in scan units, before any mending. */
	readonly health: ScanHealth;
	readonly unit: UnitProposal;
}

export interface ModelAnswer {
	readonly unit: Unit;
	readonly unitReason: Issue;
	/** What the chosen mending did, step by step. */
	readonly mended: readonly MendStep[];
	/** Model frame, mm. */
	readonly mesh: TriangleMesh;
	/** Row-major 4 × 4, scan coordinates → model frame. */
	readonly toModel: readonly number[];
	/** Extents along x, y, z, mm. */
	readonly size: Vec3;
	/** mm² */
	readonly area: number;
	/** mm³; null when open. */
	readonly volume: number | null;
	/** Model frame, mm; null when open. */
	readonly centroid: Vec3 | null;
	readonly closed: boolean;
	/** The scan faced inwards as a whole and was turned over. */
	readonly turnedOver: boolean;
	/** Of `mesh` before it was turned over, whose units and frame `health` does not have: lengths in scan units, places in the scan frame. */
	readonly health: ScanHealth;
	/** The shells among which mending chooses, and those that stayed; model frame, mm. */
	readonly shells: ShellList;
	/** Triangles from this one on, and the vertices that only they use, are the back of an open shell: never targets. */
	readonly firstAddedTriangle: number;
}

/** Flaws and the places to be kept sound, in the placement with most to spare and in the one that keeps them clear. */
export interface KeptSound {
	/** In the placement with most to spare: what it spares, and how near the nearest flaw comes, mm. */
	readonly spare: number;
	readonly nearest: number;
	/** The placement taken instead; null where none was needed, or none was found. */
	readonly moved: StoneFit | null;
	readonly nearestThen: number | null;
}

export interface StoneAnswer {
	readonly stone: Stone;
	/** Length, width, height of a block, or the extent of an offcut from the origin, mm. */
	readonly block: Vec3;
	/** What the tape found, where the block was measured at delivery. */
	readonly measured: MeasuredBlock | null;
	/** The stone's own scan, where there is one. */
	readonly scanned: ScannedStone | null;
	/** True where no block was given and the smallest sawn one is assumed. */
	readonly assumed: boolean;
	/** Of the figure, model frame. */
	readonly hull: Hull;
	/** The same with the holding foot: what was fitted. */
	readonly held: Hull;
	/** The placement with most to spare, whatever hand or flaw made of it. */
	readonly best: StoneFit;
	/** The natural bed as a wish; null: none, a limit, or a placement that was not looked for. */
	readonly wish: LeastAngle | null;
	/** null: no flaw, or no place to be kept sound. */
	readonly kept: KeptSound | null;
	readonly fit: StoneFit;
	/** How the figure was allowed to lie when `fit` was worked out. */
	readonly turning: Commission["stone"]["turning"];
	readonly density: readonly [number, number];
	/** kg, low and high. */
	readonly stoneMass: readonly [number, number];
	/** Wet, where the stone's absorption is known. */
	readonly stoneMassWet: readonly [number, number] | null;
	readonly figureMass: readonly [number, number] | null;
	readonly figureMassWet: readonly [number, number] | null;
	/** Share of the block that is not figure; null for an open shell. */
	readonly wasteShare: number | null;
}

/** Questions that turn the fit round; worked out after everything else, because nothing depends on them. */
export interface SizesAnswer {
	readonly smallest: SmallestBlock;
	/** null where the margins alone use the block up. */
	readonly largest: LargestScale | null;
	/** The smallest of the sizes in stock that takes the figure; null where none is kept or none does. */
	readonly stock: StockAnswer | null;
	/** A given block that is too small as it stands, but not with another side up; else null. */
	readonly turned: WayUp | null;
}

/** Faces to stand on, model frame, the safest first. */
export interface RestingAnswer {
	readonly faces: readonly RestingFace[];
	/** The centre of mass is that of the figure's volume, or for an open shell that of its area. */
	readonly weighed: "volume" | "area";
}

/** What stands behind the surface, and where that is little. */
export interface ThicknessAnswer {
	/** mm, per vertex; NaN where the stone behind does not end. */
	readonly thickness: Float32Array;
	/** Per vertex, as `ThinParts.marks`. */
	readonly marks: Uint8Array;
	/** `at` is the thinnest place and `normal` its outward normal, model frame. */
	readonly parts: readonly (ThinPart & { readonly at: Vec3; readonly normal: Vec3 })[];
}

/** The comparison, or why there is none. */
export type CastAnswer =
	| { readonly check: CastCheck; readonly issue: null }
	| { readonly check: null; readonly issue: Issue };

/** An answer, or the reason why there is none. */
export type Outcome<T> =
	| { readonly answer: T; readonly issue: null }
	| { readonly answer: null; readonly issue: Issue };

export interface GildedArea {
	readonly name: string;
	readonly region: SurfaceRegion;
	/** Share of every vertex's ground that is marked, for drawing. */
	readonly marked: Float32Array;
	readonly leaf: LeafCount;
}

export interface FinishAnswer {
	readonly ground: FinishedGround;
	readonly grades: Outcome<GradeChain>;
	/** In the order of the commission. */
	readonly gilded: readonly Outcome<GildedArea>[];
	readonly fixing: Outcome<FixingAnswer>;
	/** null until there is a plan. */
	readonly quantities: Quantities | null;
	readonly quote: Quote | null;
	/** Vibration of a day of each stage, or of the carver's own day. */
	readonly days: readonly Workday[];
}

export interface Answers {
	readonly model: ModelAnswer | null;
	readonly resting: RestingAnswer | null;
	/** null: no pair was picked. */
	readonly cast: CastAnswer | null;
	readonly field: CurvatureField | null;
	readonly index: SurfaceIndex | null;
	readonly stone: StoneAnswer | null;
	/** null: none were asked for. */
	readonly cuts: CutsAnswer | null;
	readonly datumSets: readonly DatumSet[];
	/** Root mean square error of a target, mm, per vertex, for the first datum set. */
	readonly seatError: Float32Array | null;
	/** Cover and claims of each round, per vertex of the model's mesh. */
	readonly rounds: readonly RoundReport[];
	readonly plan: Plan | null;
	readonly sizes: SizesAnswer | null;
	/** null until model and stone are known. */
	readonly finish: FinishAnswer | null;
	/** Natural bed and flaws in the placement that stands. */
	readonly nature: NatureAnswer | null;
	/** Why something is missing, by page; words by `refusalText`. */
	readonly waits: readonly { readonly page: "model" | "stone" | "points"; readonly issue: Issue }[];
}
