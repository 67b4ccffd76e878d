/** The stone, the figure's place in it, and the questions that turn the fit round. */

import type { Job } from "../../job.ts";
import { Refusal } from "../../refusal.ts";
import type { FitOptions, Margins, StoneFit } from "../../stone/fitBlock.ts";
import { placedInScan } from "../../stone/fitScanned.ts";
import { fitClearOf, fitStone, largestScaleIn, placedByHand } from "../../stone/fitStone.ts";
import { fromFlaw } from "../../stone/flaws.ts";
import { hullWithFoot } from "../../stone/holdingFoot.ts";
import type { Hull } from "../../stone/hull.ts";
import { type LeastAngle, leastAngle } from "../../stone/leastAngle.ts";
import { dryMass, weighingOf, wetMass } from "../../stone/mass.ts";
import { otherWayUp } from "../../stone/otherWayUp.ts";
import { smallestBlock } from "../../stone/sizes.ts";
import { smallestOfStock } from "../../stone/stock.ts";
import type { DirectionLimit, Turning } from "../../stone/turning.ts";
import { IDENTITY, type Placement, rotationFromQuaternion, type Vec3 } from "../../vector.ts";
import type { KeptSound, ModelAnswer, OpenedScan, SizesAnswer, StoneAnswer } from "../answers.ts";
import type { Commission } from "../commission.ts";
import { choice, type Graph } from "../graph.ts";
import { marginsUsed } from "../marginsUsed.ts";
import { fitShape } from "./fitShape.ts";
import { bedCosine, flawsOf } from "./flawStages.ts";
import { type StoneShape, sawnShape, stoneShape } from "./stoneShape.ts";

export function* stoneStages(
	graph: Graph,
	model: ModelAnswer,
	hull: Hull,
	commission: Commission,
	stoneScan: OpenedScan | null,
): Job<StoneAnswer> {
	const described = commission.stone;
	const weighing = weighingOf(described.kind, described.density_kgm3);
	const held = yield* graph.stage("holding foot", [hull, described.holdingFoot_mm], () =>
		hullWithFoot(hull, model.mesh.positions, described.holdingFoot_mm),
	);
	const { given, block_mm, measured_mm, planes, scan, breaks } = described;
	const shape = yield* graph.stage(
		"stone as it is",
		[stoneScan, choice([given, block_mm, measured_mm, planes, scan, breaks])],
		() => stoneShape(described, stoneScan),
	);
	const { turning, tip_deg, naturalBed, searchUpTo } = described;
	const ways = choice([turning, tip_deg, naturalBed, searchUpTo, described.outOfTrue_mm, described.otherMargin_mm]);
	const options = fitOptions(described);
	const standing =
		shape ??
		(yield* graph.stage("assumed block", [held, choice(options.margins), ways], function* () {
			const upright = turningOf({ ...described, turning: turning === "free" ? "upright" : turning });
			const smallest = yield* smallestBlock(held, { ...options, tolerance: undefined, turning: upright });
			return sawnShape(smallest.sawn, []);
		}));
	const { scanned } = standing;
	const found = yield* graph.stage("fit", [held, standing, choice(options.margins), ways], () =>
		fitShape(model.mesh, held, standing, options),
	);
	const wish = yield* graph.stage("along the bed", [found], () => bedWish(held, standing, described, options, found));
	const { byHand } = described;
	const fit = yield* graph.stage("placement", [found, wish, choice(byHand)], function* (): Job<StoneFit> {
		if (!byHand && wish) return placedByHand(held, standing.stone, wish.fit.placement, options, found);
		if (!byHand) return found;
		const placement = { rotation: rotationFromQuaternion(byHand.quaternion), translation: byHand.translation_mm };
		if (scanned) return yield* placedInScan(model.mesh, held, scanned, placement, options, found);
		return placedByHand(held, standing.stone, placement, options, found);
	});
	const { flaws, keepSound, soundWithin_mm } = described;
	const kept = yield* graph.stage(
		"clear of flaws",
		[fit, choice([flaws, keepSound, soundWithin_mm])],
		function* (): Job<KeptSound | null> {
			if (flaws.length === 0 || keepSound.length === 0) return null;
			const planes = flawsOf(described);
			const sound = keepSound.map((at) => at.position_mm);
			const nearest = (placement: Placement): number =>
				Math.min(...planes.flatMap((flaw) => sound.map((at) => fromFlaw(flaw, placement, at))));
			const before = { spare: fit.spare, nearest: nearest(fit.placement) };
			// A hand has placed it, or a scan's hollows would have to be asked as well: told, not changed.
			if (before.nearest >= soundWithin_mm || byHand || scanned) return { ...before, moved: null, nearestThen: null };
			const clear = yield* fitClearOf(held, standing.stone, planes, sound, soundWithin_mm, options, fit);
			const good = clear?.fits ? clear : null;
			return { ...before, moved: good, nearestThen: good && nearest(good.placement) };
		},
	);
	const placed = kept?.moved ?? fit;
	return yield* graph.stage("stone", [model, hull, placed, kept, choice([weighing, turning])], function* () {
		const volume = standing.scanned?.volume ?? standing.stone.volume;
		return {
			...standing,
			block: standing.extent,
			assumed: shape === null,
			hull,
			held,
			fit: placed,
			best: found,
			wish: byHand || kept?.moved ? null : wish,
			kept,
			turning,
			density: weighing.density,
			stoneMass: dryMass(volume, weighing),
			stoneMassWet: wetMass(volume, weighing),
			figureMass: model.volume === null ? null : dryMass(model.volume, weighing),
			figureMassWet: model.volume === null ? null : wetMass(model.volume, weighing),
			wasteShare: model.volume === null ? null : 1 - model.volume / volume,
		};
	});
}

type Described = Commission["stone"];

const UP: Vec3 = [0, 0, 1];

/** The least angle to a natural bed that is wished for; null where there is no such wish, or nothing to choose from. */
function* bedWish(
	held: Hull,
	{ stone, scanned }: StoneShape,
	described: Described,
	options: FitOptions,
	found: StoneFit,
): Job<LeastAngle | null> {
	const bed = described.naturalBed;
	// In a scan's hollows every angle would be a long search without a proof: there the angle is told.
	if (!bed || bed.within_deg !== null || scanned || !found.fits || described.turning === "as stood") return null;
	return yield* leastAngle(found, bedCosine(bed, found.placement), (within_deg) => {
		const turning = turningOf({ ...described, naturalBed: { ...bed, within_deg } });
		return fitStone(held, stone, { ...options, turning });
	});
}

/** How the figure may turn: the way chosen, within the natural bed's limit. */
function turningOf({ turning, tip_deg, naturalBed }: Described): Turning {
	const bed: DirectionLimit[] =
		naturalBed?.within_deg == null
			? []
			: [{ model: naturalBed.model, stone: naturalBed.normal, degrees: naturalBed.within_deg, eitherWay: true }];
	switch (turning) {
		case "as stood":
			return { kind: "fixed", rotation: IDENTITY };
		case "upright":
			return { kind: "upright", limits: bed };
		case "tipped":
			return { kind: "free", limits: [{ model: UP, stone: UP, degrees: tip_deg }, ...bed] };
		case "free":
			return { kind: "free", limits: bed };
	}
}

/** How the figure may lie in the stone that stands, as it was fitted, and so in one of the yard that would take its place. */
export const optionsOf = ({ stone }: Commission): FitOptions => fitOptions(stone);

/** Margins with what the stone may be off its sizes. */
function fitOptions(described: Described): FitOptions & { readonly margins: Margins } {
	const own = marginsUsed(described);
	const off = described.outOfTrue_mm / 2;
	const with_ = (face: keyof Margins): number => own[face] + off;
	return {
		turning: turningOf(described),
		margins: {
			bed: with_("bed"),
			top: with_("top"),
			front: with_("front"),
			back: with_("back"),
			left: with_("left"),
			right: with_("right"),
		},
		otherMargin: described.otherMargin_mm + off,
		maxCells: described.searchUpTo,
	};
}

export function* sizesStage(
	graph: Graph,
	{ held, stone, fit, block }: StoneAnswer,
	commission: Commission,
): Job<SizesAnswer> {
	const described = commission.stone;
	const options = { ...fitOptions(described), tolerance: undefined };
	const wished = choice([options, described.stock_mm]);
	const smallest = yield* graph.stage("smallest block", [held, choice(options)], () => smallestBlock(held, options));
	const largest = yield* graph.stage("largest size", [held, stone, choice(options)], function* () {
		try {
			return yield* largestScaleIn(held, stone, options);
		} catch (error) {
			if (error instanceof Refusal && USED_UP.includes(error.issue.code)) return null;
			throw error;
		}
	});
	const stock = yield* graph.stage("stock sizes", [held, smallest, wished], () =>
		smallestOfStock(held, described.stock_mm, smallest.bound, fitOptions(described)),
	);
	const sawn = described.given === "sides" && described.block_mm !== null && described.breaks.length === 0;
	const turned = yield* graph.stage("other way up", [held, fit, choice([sawn, block, options])], function* () {
		return sawn && !fit.fits ? yield* otherWayUp(held, block, options) : null;
	});
	return yield* graph.stage("sizes", [smallest, largest, stock, turned], function* () {
		return { smallest, largest, stock, turned };
	});
}

const USED_UP: readonly string[] = ["stone.marginsUseUp", "stone.marginsUseUpStone"];
