/** A yard of stones: lists of sizes, stones read from files, and the order in which they are told. */

import type { Job } from "../job.ts";
import { within } from "../job.ts";
import { Refusal } from "../refusal.ts";
import { settleUnit, type Unit } from "../scan/unit.ts";
import { type LengthUnit, parseSides } from "../text/format.ts";
import type { Vec3 } from "../vector.ts";
import type { OpenedScan } from "./answers.ts";
import { type Commission, newCommission } from "./commission.ts";
import { type StoneShape, stoneShape } from "./stages/stoneShape.ts";

type Described = Commission["stone"];

export interface ListedStone {
	readonly name: string;
	/** Length, width, height, mm. */
	readonly sides: Vec3;
}

/** name (may be left out) , ; or tab, then three lengths with × or x between; a length may carry its unit */
const LINE = /^(?:(.*?)[,;\t]\s*)?\s*([\d.]+[^x×,;]*[x×][^x×]+[x×][^x×]+?)\s*$/i;
/** A number before a comma with no room behind it: a name, or the whole part of a length? */
const EITHER = /^\s*\d+,\d{1,2}(?!\d)/;

/**
 * Every line of a list of sizes ("step block, 400x300x200"); empty lines and those after # say nothing. Refuses
 * "stone.yardLine" where a line is no size, and "stone.yardComma" where a comma may part a name from a length or a length's
 * decimals; `path` names the list. Bare numbers are in `unit`.
 */
export function listedStones(text: string, path: string, unit: LengthUnit = "mm"): ListedStone[] {
	const listName = path.split(/[\\/]/).pop() ?? path;
	return text.split(/\r?\n/).flatMap((line, i): ListedStone[] => {
		if (line.trim() === "" || line.trim().startsWith("#")) return [];
		if (EITHER.test(line)) throw new Refusal("stone.yardComma", { path, line: i + 1, found: line.trim() });
		const found = LINE.exec(line);
		const sides = found && parseSides(found[2], unit);
		if (!sides) throw new Refusal("stone.yardLine", { path, line: i + 1, found: line.trim() });
		return [{ name: found[1]?.trim() || `${listName} line ${i + 1}`, sides }];
	});
}

const PLAIN: Described = newCommission("stone").stone;

/** A block of a list as a commission describes it. */
export const listedBlock = ({ sides }: ListedStone): Described => ({ ...PLAIN, block_mm: [...sides] });

/** The stone that a file describes; refuses one that describes none, and a scan, which is opened by `scannedOfYard`. */
export function* describedOfYard(described: Described, name: string): Job<StoneShape> {
	const shape = yield* stoneShape(described, null);
	if (!shape) throw new Refusal("stone.nothingGiven", { name });
	return shape;
}

/** The stone of a scan; its unit is taken from its size unless given. */
export function* scannedOfYard(
	scan: OpenedScan,
	given: Unit | undefined,
): Job<{ readonly shape: StoneShape; readonly unit: Unit }> {
	const { min, max } = scan.health.bounds;
	const { unit } = settleUnit(Math.max(max[0] - min[0], max[1] - min[1], max[2] - min[2]), given, scan.name);
	const described: Described = { ...PLAIN, given: "scan", scan: { file: scan.name, sha256: scan.sha256, unit } };
	return { shape: (yield* within(stoneShape(described, scan), 0, 1)) as StoneShape, unit };
}

/** What the order of a yard goes by. */
export interface YardMeasure {
	readonly fits: boolean;
	/** mm */
	readonly spare: number;
	/** mm³ */
	readonly volume: number;
}

/**
 * Those that the figure fits, the least waste first (the smallest stone); then those that it does not, the least short
 * first; then those that could not be read. Equal ones stay in their order.
 */
export function rankedYard<T>(stones: readonly T[], measureOf: (stone: T) => YardMeasure | null): T[] {
	const rank = (measure: YardMeasure | null): number => (measure === null ? 2 : measure.fits ? 0 : 1);
	const measured = stones.map((stone, i) => ({ stone, i, measure: measureOf(stone) }));
	measured.sort((a, b) => {
		const [first, second] = [rank(a.measure), rank(b.measure)];
		if (first !== second) return first - second;
		if (!a.measure || !b.measure) return a.i - b.i;
		return (first === 0 ? a.measure.volume - b.measure.volume : b.measure.spare - a.measure.spare) || a.i - b.i;
	});
	return measured.map(({ stone }) => stone);
}
