import type { Job } from "../../job.ts";
import { Refusal } from "../../refusal.ts";
import { stoneOf } from "../../stone/block.ts";
import { FACES_ALONG, fitBlock, type Margins, type StoneFit } from "../../stone/fitBlock.ts";
import type { Hull } from "../../stone/hull.ts";
import { dryMass, weighingOf, wetMass } from "../../stone/mass.ts";
import { largestScale, smallestBlock } from "../../stone/sizes.ts";
import type { Turning } from "../../stone/turning.ts";
import { IDENTITY, type Vec3 } from "../../vector.ts";
import type { ModelAnswer, SizesAnswer, StoneAnswer } from "../answers.ts";
import type { Commission } from "../commission.ts";
import { choice, type Graph } from "../graph.ts";

/** Margin that is left on every side of a block that was not given, mm. */
const ASSUMED_MARGIN = 25;

export function* stoneStages(graph: Graph, model: ModelAnswer, hull: Hull, commission: Commission): Job<StoneAnswer> {
	const { kind, density_kgm3, block_mm, margins_mm, turning } = commission.stone;
	const weighing = weighingOf(kind, density_kgm3);
	let margins: Margins = margins_mm;
	let sides: Vec3;
	if (block_mm) sides = block_mm;
	else {
		margins = assumedMargins(margins_mm);
		const smallest = yield* graph.stage("assumed block", [hull, choice([margins, turning])], () =>
			smallestBlock(hull, { turning: turningOf(turning === "free" ? "upright" : turning), margins }),
		);
		sides = smallest.sawn;
	}
	const fit = yield* graph.stage("fit", [hull, choice([sides, margins, turning])], () =>
		fitBlock(hull, sides, { turning: turningOf(turning), margins }),
	);
	return yield* graph.stage("stone", [model, hull, fit, choice([weighing, sides, turning])], function* () {
		const stone = stoneOf({ kind: "box", size: sides });
		return {
			stone,
			block: sides,
			assumed: block_mm === null,
			hull,
			fit,
			turning,
			density: weighing.density,
			stoneMass: dryMass(stone.volume, weighing),
			stoneMassWet: wetMass(stone.volume, weighing),
			figureMass: model.volume === null ? null : dryMass(model.volume, weighing),
			wasteShare: model.volume === null ? null : 1 - model.volume / stone.volume,
		};
	});
}

const turningOf = (turning: Commission["stone"]["turning"]): Turning =>
	turning === "as stood" ? { kind: "fixed", rotation: IDENTITY } : { kind: turning };

/** Margins for a block that was not given: the carver's own, at least the usual ones. */
function assumedMargins(own: Margins): Margins {
	const at = (face: keyof Margins): number => Math.max(own[face], ASSUMED_MARGIN);
	return { bed: at("bed"), top: at("top"), front: at("front"), back: at("back"), left: at("left"), right: at("right") };
}

export function* sizesStage(
	graph: Graph,
	{ hull, block, assumed }: StoneAnswer,
	commission: Commission,
): Job<SizesAnswer> {
	const { margins_mm, turning } = commission.stone;
	const margins = assumed ? assumedMargins(margins_mm) : margins_mm;
	const options = { turning: turningOf(turning), margins };
	const smallest = yield* graph.stage("smallest block", [hull, choice(options)], () => smallestBlock(hull, options));
	const largest = yield* graph.stage("largest size", [hull, choice([block, options])], function* () {
		try {
			return yield* largestScale(hull, block, options);
		} catch (error) {
			if (error instanceof Refusal && error.issue.code === "stone.marginsUseUp") return null;
			throw error;
		}
	});
	return yield* graph.stage("sizes", [smallest, largest], function* () {
		return { smallest, largest };
	});
}

/** By how much the block falls short along x, y and z in the best placement, mm; 0 where it does not. */
export const lacksOf = ({ gaps }: StoneFit): number[] =>
	FACES_ALONG.map((pair) => {
		const spare = gaps
			.filter((g) => pair.some((face) => face === g.face))
			.reduce((sum, g) => sum + g.gap - g.margin, 0);
		return Math.max(0, -spare);
	});
