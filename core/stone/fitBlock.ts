/** Does the figure fit in a block, how, and with how much to spare: an answer with a proof both ways (handbook 10). */
import type { Job } from "../job.ts";
import type { FaceName } from "../plan/commission.ts";
import { Refusal } from "../refusal.ts";
import { type Placement, place, turn, type Vec3 } from "../vector.ts";
import { searchBox } from "./boxJudge.ts";
import type { Hull } from "./hull.ts";
import { type Body, bodyOf } from "./support.ts";
import type { Turning } from "./turning.ts";

/** Stone that must be left between figure and each face, mm; a holding foot adds to the bed, a skin that is out of true to all. */
export type Margins = Readonly<Record<FaceName, number>>;

export const NO_MARGINS: Margins = { left: 0, right: 0, front: 0, back: 0, bed: 0, top: 0 };

/** Low and high face along each axis of the block. */
export const FACES_ALONG: readonly (readonly [FaceName, FaceName])[] = [
	["left", "right"],
	["front", "back"],
	["bed", "top"],
];

/** Stone between the figure and one face. */
export interface FaceGap {
	readonly face: string;
	/** mm; negative where the figure stands out of the stone. */
	readonly gap: number;
	readonly margin: number;
	/** Where the figure comes nearest to the face: model frame and stone frame, mm. */
	readonly touching: Vec3;
	readonly touchingInStone: Vec3;
}

export interface StoneFit {
	/** Model frame → stone frame (block: marked corner at the origin, edges along the axes). */
	readonly placement: Placement;
	/** In the order of the stone's faces; of a block left, right, front, back, bed, top. */
	readonly gaps: readonly FaceGap[];
	/** Least of gap − margin over the faces, mm. */
	readonly spare: number;
	/** Proved: no allowed placement spares more than this, mm. */
	readonly bound: number;
	/** Least gap, mm, and what it can reach at best when the margins are the same all round. */
	readonly clearance: number;
	readonly clearanceBound: number;
	/** bound − spare is within the tolerance. */
	readonly certified: boolean;
	/** Every gap is at least its margin (to a millionth of a millimetre). */
	readonly fits: boolean;
	/** Cells of the proof: a measure of the work, the same on every machine. */
	readonly cells: number;
}

export interface FitOptions {
	/** Default: free. */
	readonly turning?: Turning;
	/** Default: none. */
	readonly margins?: Margins;
	/** The margin of breaks and of an offcut's faces, which have no name of a block's face; default none. */
	readonly otherMargin?: number;
	/** How near spare and bound must come, mm; default 0.1. */
	readonly tolerance?: number;
	/** Cells after which the search stops with the best so far and its honest bound. */
	readonly maxCells?: number;
	/** The same when this says so. */
	readonly enough?: () => boolean;
}

export const FIT_TOLERANCE = 0.1;
/** A contact that is exact in the drawing comes out some 1e-13 either way. */
const CONTACT = 1e-6;

/** Refuses sides, margins and tolerances that no stone has. */
export function checkSides(sides: Vec3 | null, options: FitOptions, tolerance: number): void {
	for (const side of sides ?? []) {
		if (!(side > 0 && Number.isFinite(side))) throw new Refusal("stone.side", { found: side });
	}
	const given = { ...options.margins, "other faces": options.otherMargin ?? 0 };
	for (const [face, margin] of Object.entries(given)) {
		if (!(margin >= 0 && Number.isFinite(margin))) throw new Refusal("stone.margin", { face, found: margin });
	}
	if (!(tolerance > 0)) throw new Refusal("stone.tolerance", { found: tolerance });
}

/** Both margins along each axis. */
export const marginSums = (margins: Margins): Vec3 => [
	margins.left + margins.right,
	margins.front + margins.back,
	margins.bed + margins.top,
];

/**
 * The placement of a figure in a block with sides `sides` (mm) that leaves most over the margins, and the bound that no
 * other placement beats. Along each axis the figure stands so that both faces spare the same.
 */
export function* fitBlock(hull: Hull, sides: Vec3, options: FitOptions = {}): Job<StoneFit> {
	const margins = options.margins ?? NO_MARGINS;
	const tolerance = options.tolerance ?? FIT_TOLERANCE;
	checkSides(sides, options, tolerance);
	const taken = marginSums(margins);
	const room: Vec3 = [sides[0] - taken[0], sides[1] - taken[1], sides[2] - taken[2]];
	const body = bodyOf(hull);
	const turning = options.turning ?? { kind: "free" };
	const found = yield* searchBox(
		body,
		turning,
		{ kind: "clearance", room },
		{ tolerance, decideSign: true, maxCells: options.maxCells, enough: options.enough },
	);
	const { placement, gaps } = placeInBlock(body, found.rotation, sides, margins);
	return fitOf(placement, gaps, found, tolerance);
}

/** The answer for a placement: what it leaves, and how near that is to the bound of the search. */
export function fitOf(
	placement: Placement,
	gaps: readonly FaceGap[],
	found: { readonly bound: number; readonly cells: number },
	tolerance: number,
): StoneFit {
	const spare = Math.min(...gaps.map((g) => g.gap - g.margin));
	const bound = Math.max(spare, found.bound);
	return {
		placement,
		gaps,
		spare,
		bound,
		clearance: Math.min(...gaps.map((g) => g.gap)),
		clearanceBound: bound + Math.min(...gaps.map((g) => g.margin)),
		certified: bound - spare <= tolerance,
		fits: spare >= -CONTACT,
		cells: found.cells,
	};
}

/** Puts a turned figure into a block so that both faces along each axis spare the same, and measures every gap. */
export function placeInBlock(
	body: Body,
	rotation: Placement["rotation"],
	sides: Vec3,
	margins: Margins,
): { placement: Placement; gaps: FaceGap[] } {
	const { corners, middle } = body;
	const translation: [number, number, number] = [0, 0, 0];
	const touching: [number, number][] = [];
	const spans: [number, number][] = [];
	const turnedMiddle = turn(rotation, middle);
	for (let i = 0; i < 3; i++) {
		let low = 0;
		let high = 0;
		let least = Infinity;
		let most = -Infinity;
		for (let k = 0; k < corners.length; k += 3) {
			const s =
				rotation[3 * i] * corners[k] + rotation[3 * i + 1] * corners[k + 1] + rotation[3 * i + 2] * corners[k + 2];
			if (s < least) {
				least = s;
				low = k;
			}
			if (s > most) {
				most = s;
				high = k;
			}
		}
		const [lowFace, highFace] = FACES_ALONG[i];
		const over = sides[i] - margins[lowFace] - margins[highFace] - (most - least);
		const shift = margins[lowFace] + over / 2 - least;
		translation[i] = shift - turnedMiddle[i];
		touching.push([low, high]);
		spans.push([least + shift, sides[i] - (most + shift)]);
	}
	const placement: Placement = { rotation, translation };
	const gaps: FaceGap[] = [];
	for (let i = 0; i < 3; i++) {
		for (let side = 0; side < 2; side++) {
			const k = touching[i][side];
			const at: Vec3 = [corners[k] + middle[0], corners[k + 1] + middle[1], corners[k + 2] + middle[2]];
			const face = FACES_ALONG[i][side];
			gaps.push({
				face,
				gap: spans[i][side],
				margin: margins[face],
				touching: at,
				touchingInStone: place(placement, at),
			});
		}
	}
	return { placement, gaps };
}
