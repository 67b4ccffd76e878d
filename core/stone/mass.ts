/** What stone weighs: always a range, low and high, because the density is one. */
import { Refusal } from "../refusal.ts";
import { stoneKind } from "./stoneKinds.ts";

/** Low and high, kg. */
export type MassRange = readonly [number, number];

const MM3_PER_M3 = 1e9;
/** Beyond any stone that is carved; soapstone, the heaviest listed, stays under 3000 kg/m³. */
const DENSEST_STONE = 5000;

export interface Weighing {
	/** kg/m³, low and high. */
	readonly density: readonly [number, number];
	/** Greatest share of the dry mass that the stone takes up as water; null when nothing is known. */
	readonly absorption: number | null;
}

/**
 * Density of a stone: the carver's own range when there is one, else the published range of its kind.
 * Refuses a kind that is not listed without a range of its own, and ranges that no stone has.
 */
export function weighingOf(kind: string, own: readonly [number, number] | null = null): Weighing {
	const listed = stoneKind(kind);
	if (own === null) {
		if (listed === undefined) throw new Refusal("stone.kind", { found: kind });
		return { density: listed.density, absorption: listed.absorption };
	}
	if (!(own[0] > 0 && own[0] <= own[1] && own[1] <= DENSEST_STONE)) {
		throw new Refusal("stone.density", { low: own[0], high: own[1], most: DENSEST_STONE });
	}
	return { density: own, absorption: listed?.absorption ?? null };
}

/** Dry mass of a volume in mm³. */
export const dryMass = (volume: number, weighing: Weighing): MassRange => [
	(volume / MM3_PER_M3) * weighing.density[0],
	(volume / MM3_PER_M3) * weighing.density[1],
];

/** Mass when the stone has stood in the rain: the low end dry, the high end soaked; null when its absorption is not known. */
export function wetMass(volume: number, weighing: Weighing): MassRange | null {
	if (weighing.absorption === null) return null;
	const [low, high] = dryMass(volume, weighing);
	return [low, high * (1 + weighing.absorption)];
}
