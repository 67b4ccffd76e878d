/** Natural bed and flaws: how the figure lies to them in its placement. */

import { thicknessAt } from "../../drilling/thickness.ts";
import { THIN_MM } from "../../drilling/thinParts.ts";
import type { Job } from "../../job.ts";
import { type Flaw, flawInModel, flawThrough, fromFlaw, type Section, sectionsOf } from "../../stone/flaws.ts";
import type { SurfaceIndex } from "../../surface/surfaceIndex.ts";
import { distance, dot, length, type Placement, turn, type Vec3 } from "../../vector.ts";
import type { ModelAnswer, StoneAnswer } from "../answers.ts";
import type { Commission } from "../commission.ts";
import { choice, type Graph } from "../graph.ts";

export interface CrossedPart {
	/** mm²; null where the plane cuts an open shell. */
	readonly area: number | null;
	/** Model frame, mm. */
	readonly middle: Vec3;
	/** The smallest section of this part within a thumb's breadth of the flaw, mm²; null for an open shell. */
	readonly smallest: number | null;
	/** The least thickness of the figure along the crossing, mm; null where none was found. */
	readonly thinnest: number | null;
	/** The flaw passes a thin part: a wing, a neck, a finger. */
	readonly thin: boolean;
}

export interface FlawAnswer {
	readonly flaw: Flaw;
	/** Where it crosses the figure, the largest part first; empty where it passes by. */
	readonly parts: readonly CrossedPart[];
	/** Sum over the parts, mm²; null for an open shell. */
	readonly area: number | null;
	/** From the flaw's skin to each place to be kept sound, mm, in their order. */
	readonly sound: readonly number[];
}

export interface BedAnswer {
	/** Cosine of the angle between the model's direction and the bed's normal. */
	readonly cosine: number;
}

export interface NatureAnswer {
	readonly bed: BedAnswer | null;
	readonly flaws: readonly FlawAnswer[];
}

/** Sections are also looked at so far to either side of a flaw, mm: a thumb's breadth (common practice, no source). */
const BESIDE: readonly number[] = [-20, -10, 10, 20];
/** Where a plane only grazes a bump or a feather's tip nothing breaks that the chisel would not take, mm² (common practice, no source). */
const SLIVER = 25;
/** A section whose middle lies further from the crossing's than this is another part's, mm. */
const SAME_PART = 40;

/** The commission's flaws as planes; refuses places on one line. */
export const flawsOf = ({ flaws }: Commission["stone"]): Flaw[] =>
	flaws.map(({ name, through_mm, thickness_mm }) => flawThrough(name, through_mm, thickness_mm));

/** Cosine of the angle between the model's direction and the bed's normal, either way along it. */
export const bedCosine = (
	{ model, normal }: { readonly model: Vec3; readonly normal: Vec3 },
	{ rotation }: Placement,
): number => Math.abs(dot(turn(rotation, model), normal)) / (length(model) * length(normal) || 1);

export function* natureStage(
	graph: Graph,
	model: ModelAnswer,
	index: SurfaceIndex | null,
	{ fit }: StoneAnswer,
	commission: Commission,
): Job<NatureAnswer> {
	const { naturalBed, flaws, keepSound } = commission.stone;
	return yield* graph.stage(
		"bed and flaws",
		[model, index, fit, choice([naturalBed, flaws, keepSound])],
		function* (): Job<NatureAnswer> {
			const { placement } = fit;
			const found: FlawAnswer[] = [];
			for (const flaw of flawsOf(commission.stone)) {
				const parts = yield* crossedParts(model, index, flawInModel(flaw, placement));
				found.push({
					flaw,
					parts,
					area: model.closed ? parts.reduce((sum, part) => sum + (part.area ?? 0), 0) : null,
					sound: keepSound.map((at) => fromFlaw(flaw, placement, at.position_mm)),
				});
			}
			const bed = naturalBed && { cosine: bedCosine(naturalBed, placement) };
			return { bed, flaws: found };
		},
	);
}

function* crossedParts(model: ModelAnswer, index: SurfaceIndex | null, flaw: Flaw): Job<CrossedPart[]> {
	const at = yield* sectionsOf(model.mesh, flaw.normal, flaw.offset);
	if (at.length === 0) return [];
	const beside: Section[] = [];
	for (const by of BESIDE) beside.push(...(yield* sectionsOf(model.mesh, flaw.normal, flaw.offset + by)));
	return at.map((section): CrossedPart => {
		let smallest = section.area;
		for (const other of beside) {
			if (other.area === null || smallest === null || !(other.area < smallest)) continue;
			// A tip that ends between the planes is no neck of this part.
			if (distance(other.middle, section.middle) < SAME_PART && other.area > 0.05 * smallest) smallest = other.area;
		}
		let thinnest: number | null = null;
		for (const place of model.closed && index ? section.outline : []) {
			const thickness = thicknessAt(index as SurfaceIndex, place);
			if (thickness !== null && (thinnest === null || thickness < thinnest)) thinnest = thickness;
		}
		// A part is thin where most of its outline has little behind it, not where one corner is sharp.
		const sliver = section.area !== null && section.area < SLIVER;
		const thin = model.closed && index !== null && !sliver && usualThickness(index, section) < THIN_MM;
		return { area: section.area, middle: section.middle, smallest, thinnest, thin };
	});
}

/** The thickness that a quarter of the outline's places stay under, mm. */
function usualThickness(index: SurfaceIndex, { outline }: Section): number {
	const all = outline.map((place) => thicknessAt(index, place) ?? Infinity).sort((a, b) => a - b);
	return all[Math.floor(all.length / 4)];
}
