/** Which margins the fit leaves, and that they stay the same when a block comes. */

import { type Commission, FACES, type FaceName } from "./commission.ts";

type Described = Commission["stone"];
type Margins = Described["margins_mm"];

/** Margin that is left on every side of a block that was not given, unless another was asked for, mm. */
export const USUAL_MARGIN = 25;

/** Whether no stone was given, so that the smallest sawn block is assumed. */
export const isAssumed = ({ given, block_mm }: Pick<Described, "given" | "block_mm">): boolean =>
	given === "sides" && block_mm === null;

const NONE_ASKED = (margins: Margins): boolean => FACES.every((face) => margins[face] === 0);

/** The usual ones where none was asked for, mm. */
export const orUsual = (margins: Margins): Margins =>
	NONE_ASKED(margins)
		? (Object.fromEntries(FACES.map((face) => [face, USUAL_MARGIN])) as Record<FaceName, number>)
		: margins;

/** The margins that the figure is fitted with, mm, before what the stone may be out of true. */
export const marginsUsed = (stone: Described): Margins =>
	isAssumed(stone) ? orUsual(stone.margins_mm) : stone.margins_mm;

/**
 * The stone with that changed of it. Where a stone comes in the place of an assumed one, the margins that were used and shown
 * until then become the carver's own: to give a block must not take a margin away.
 */
export function stoneWith(stone: Described, change: Partial<Described>): Described {
	const changed = { ...stone, ...change };
	if (change.margins_mm || !isAssumed(stone) || isAssumed(changed)) return changed;
	return { ...changed, margins_mm: marginsUsed(stone) };
}
