/**
 * Once there are holes in the stone the figure does not move in it: a change goes on with the placement as it stands, and
 * one that would make another figure, or another stone, of what is drilled is refused.
 */

import { holeNumbers } from "../../core/bench/log.ts";
import type { Commission } from "../../core/plan/commission.ts";
import type { Plan } from "../../core/plan/planFile.ts";
import { Refusal } from "../../core/refusal.ts";
import { boundsOfStone, stoneOf } from "../../core/stone/block.ts";
import { isPutDown, placing, withDrilled } from "./drilled.ts";

export interface HeldBy {
	/** The plan of the commission as it is before the change; null while it is being worked out. */
	readonly plan: Plan | null;
	/** The carver himself gives the figure another place in the stone. */
	readonly places?: boolean;
}

type Recipe = (commission: Commission) => Commission;

/** The commission after the change, holes and placement held fast; or in words why it is refused. */
export function changedHeld(before: Commission, recipe: Recipe, { plan, places = false }: HeldBy): Commission | string {
	const wanted = recipe(before);
	const holes = holesOf(wanted.log === before.log ? before : { ...before, log: wanted.log });
	if (holes.length === 0 || placing(before) === placing(wanted)) return freed(before, wanted);
	const other = otherFigure(before, wanted, places);
	if (other !== null) return otherWords(other, holes);
	if (!isPutDown(before) && plan === null) return waitWords(holes);
	const held = plan === null ? before : withDrilled(before, plan);
	// Held fast first, so that holes go along with whatever the change does to the model.
	const next = recipe(held);
	if (places) return freed(held, next);
	return freed(held, { ...next, stone: { ...next.stone, byHand: held.stone.byHand } });
}

const holesOf = ({ log, drilled }: Commission): number[] =>
	[...new Set([...holeNumbers(log), ...drilled.map(({ number }) => number)])].sort((a, b) => a - b);

export const hasHoles = (c: Commission): boolean => holesOf(c).length > 0;

/** Points whose entries were taken back or out of the log are free again. */
function freed(before: Commission, next: Commission): Commission {
	if (next.drilled.length === 0 || before.log === next.log) return next;
	const there = holeNumbers(next.log);
	const gone = new Set([...holeNumbers(before.log)].filter((number) => !there.has(number)));
	const drilled = next.drilled.filter(({ number }) => !gone.has(number));
	return drilled.length === next.drilled.length ? next : { ...next, drilled };
}

/** What would make the holes belong to another figure or another stone, in words; null where nothing does. */
function otherFigure(before: Commission, next: Commission, places: boolean): string | null {
	const differs = (of: (c: Commission) => unknown): boolean => JSON.stringify(of(before)) !== JSON.stringify(of(next));
	if (differs((c) => [c.scan.file, c.scan.sha256])) return "another scan";
	if (differs((c) => c.scan.unit)) return "another unit of the scan";
	if (differs((c) => c.scan.mirrored)) return "mirroring it";
	if (differs((c) => c.scan.mend)) return "mending the scan in another way";
	if (differs((c) => c.scan.back)) return "another back";
	if (differs((c) => c.model.stance)) return "standing it another way up";
	if (!places && differs((c) => c.model.scale)) return "another size";
	if (differs((c) => cornerOf(c.stone))) return "measuring the stone from another corner";
	if (next.stone.given === "sides" && next.stone.block_mm === null && before.stone.block_mm !== null)
		return "a block that is only assumed";
	return null;
}

/** Where the stone frame has its origin in what the stone was measured by. */
function cornerOf({ given, planes, scan }: Commission["stone"]): unknown {
	if (given === "scan") return scan;
	if (given !== "planes" || planes === null) return [0, 0, 0];
	try {
		return boundsOfStone(stoneOf({ kind: "planes", planes: Float64Array.from(planes.flat()) })).min.map(
			(x) => Math.round(x * 1e6) / 1e6 + 0,
		);
	} catch (trouble) {
		if (!(trouble instanceof Refusal)) throw trouble;
		return planes;
	}
}

/** Points named before the rest is counted. */
const NAMED = 8;

function pointsText(holes: readonly number[]): string {
	const named = holes.slice(0, NAMED).join(", ");
	const rest = holes.length > NAMED ? ` and ${holes.length - NAMED} more` : "";
	return holes.length === 1 ? `Point ${named} is drilled` : `Points ${named}${rest} are drilled`;
}

const otherWords = (what: string, holes: readonly number[]): string =>
	`${pointsText(holes)}, and the holes belong to the figure and the stone as they are: ${what} is refused. Take the done marks and readings back first (undo, or the log on Bench); or keep this commission with save as, and open the scan anew to begin a new one.`;

const waitWords = (holes: readonly number[]): string =>
	`${pointsText(holes)}, and where those holes lie is still being worked out. Wait until the plan stands, then change it; where it cannot be worked out, take back what was changed last.`;
