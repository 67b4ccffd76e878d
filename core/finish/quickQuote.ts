/** A first price from height, stone and detail alone, before any scan (handbook 2, step 1). */

import { Refusal } from "../refusal.ts";
import { dryMass, weighingOf } from "../stone/mass.ts";
import { type Quantities, type Quote, quoteOf, type StoneBy } from "./quote.ts";
import type { QuickShape, Rates } from "./rates.ts";

export const DETAILS = ["plain", "usual", "fine"] as const;
export type Detail = (typeof DETAILS)[number];

export interface QuickWishes {
	/** Of the figure, mm. */
	readonly height: number;
	readonly stone: string;
	readonly detail: Detail;
}

const MM_PER_DM = 100;
const MM_PER_M = 1000;

const POINTS = { plain: "pointsPlain", usual: "pointsUsual", fine: "pointsFine" } as const;
const SHARES = { plain: "detailPlain", usual: "detailUsual", fine: "detailFine" } as const;

/** What there would be to do. Refuses a height that is none and a stone without a density. */
export function quickQuantities({ height, stone, detail }: QuickWishes, shape: QuickShape): Quantities {
	if (!(height > 0 && height <= 20_000)) throw new Refusal("quote.height", { found: height });
	const weighing = weighingOf(stone);
	const box = [height * shape.width, height * shape.depth, height].map((side) => side / MM_PER_DM);
	const block = box.map((side) => side + (2 * shape.margin) / MM_PER_DM);
	const inBox = box[0] * box[1] * box[2];
	const blockVolume = block[0] * block[1] * block[2];
	const area = 2 * (box[0] * box[1] + box[1] * box[2] + box[2] * box[0]) * shape.surface;
	const points = Math.round(area * shape[POINTS[detail]]);
	const detailed = shape[SHARES[detail]];
	const kg = (dm3: number) => dryMass(dm3 * MM_PER_DM * MM_PER_DM * MM_PER_DM, weighing);
	const figure = inBox * Math.min(shape.figureShare, shape.hullShare);
	return {
		block_dm3: blockVolume,
		block_kg: kg(blockVolume),
		sawn_dm3: Math.max(0, blockVolume - inBox * shape.hullShare),
		hollow_dm3: Math.max(0, inBox * shape.hullShare - figure),
		points,
		drilled_m: (points * block[1] * MM_PER_DM * shape.depthShare) / MM_PER_M,
		joined_dm2: area * shape.nets,
		graded_dm2: area * (1 - detailed) * shape.grades,
		detailed_dm2: area * detailed * shape.grades,
		gilded_dm2: 0,
		leaves: 0,
		fixed: 0,
		bar_m: 0,
		resin_l: 0,
		base_dm3: 0,
		sent_kg: kg(figure),
	};
}

export const quickQuote = (wishes: QuickWishes, shape: QuickShape, rates: Rates, stoneBy: StoneBy): Quote =>
	quoteOf(quickQuantities(wishes, shape), rates, stoneBy);
