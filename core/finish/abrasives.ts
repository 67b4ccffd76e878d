/**
 * Abrasives by the number on their back, and the size of their grain.
 *
 * P grades (coated abrasives, FEPA 43-1 and ISO 6344): ranges over three published tables (a reference page with the coarse
 * grits to P120; a wood finisher's rounded table; a prop maker's table with decimals). Grits to P220 are defined by sieves, so
 * that tables differ by a few per cent; finer ones by a median, and they agree.
 * Diamond hand pads: sizes from memory, makers differ; no published table was found. The carver's own figure replaces them.
 */

export const ABRASIVE_KINDS = ["paper", "pad"] as const;
export type AbrasiveKind = (typeof ABRASIVE_KINDS)[number];

export interface AbrasiveGrain {
	readonly kind: AbrasiveKind;
	/** The number on its back. */
	readonly grit: number;
	/** Grain, µm, least and greatest of the tables. */
	readonly grain: readonly [number, number];
	/** false: from memory. */
	readonly published: boolean;
}

const PAPER: readonly (readonly [number, number, number])[] = [
	[36, 538, 538],
	[40, 425, 425],
	[50, 336, 336],
	[60, 260, 269],
	[80, 197, 201],
	[100, 156, 162],
	[120, 125, 127],
	[150, 97, 100],
	[180, 78, 82],
	[220, 65, 68],
	[240, 58.5, 60],
	[280, 52, 52.5],
	[320, 46, 46.2],
	[360, 40, 40.5],
	[400, 35, 35],
	[500, 30, 30.2],
	[600, 25.75, 26],
	[800, 21.8, 22],
	[1000, 18, 18.3],
	[1200, 15, 15.3],
	[1500, 12.6, 13],
	[2000, 10, 10],
	[2500, 8, 8.4],
];

const PAD: readonly (readonly [number, number])[] = [
	[60, 250],
	[120, 125],
	[200, 74],
	[400, 40],
	[800, 20],
	[1800, 10],
	[3500, 6],
];

export const ABRASIVES: readonly AbrasiveGrain[] = [
	...PAPER.map(([grit, low, high]): AbrasiveGrain => ({ kind: "paper", grit, grain: [low, high], published: true })),
	...PAD.map(([grit, size]): AbrasiveGrain => ({ kind: "pad", grit, grain: [size, size], published: false })),
];

export const abrasiveGrain = (kind: AbrasiveKind, grit: number): AbrasiveGrain | undefined =>
	ABRASIVES.find((one) => one.kind === kind && one.grit === grit);

/** mm, of the middle of the range. */
export const medianGrain = ({ grain: [low, high] }: Pick<AbrasiveGrain, "grain">): number => (low + high) / 2000;
