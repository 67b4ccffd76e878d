/** Words for rough-out cuts: what the piece does, how it is propped and lifted, and the cautions of the saw. */

import type { Loose } from "../cuts/describeCut.ts";
import type { CutBar } from "../cuts/planCuts.ts";
import type { SawKind } from "../cuts/saws.ts";
import { FILTER_KG, TACKLE_KG } from "../finish/lifting.ts";
import { massText } from "./format.ts";
import type { Caution } from "./sheetWords.ts";

/** How the piece is held before the last pass. */
export const PROP_WORDS: Readonly<Record<Loose, string>> = {
	rests:
		"The piece stays lying on the cut: wedge the kerf open as the saw goes on, so that it cannot close, and lift the piece off.",
	slides:
		"The piece slides down the cut when it comes loose: sling it and put a stop below its lower edge before the last pass.",
	stands: "The piece stays standing beside the stone: wedge the kerf open at the top, then walk or lift it away.",
	topples:
		"The piece stands on a narrow foot and falls away from the stone: strut it on the far side, or sling it, before the last pass.",
	hangs:
		"The piece hangs under the cut and drops when it comes loose: pack it up from below along its whole length before the last third is sawn.",
};

/** The piece's weight against the published filters; `kg` is its upper end, dry. */
export function liftWords(kg: number): string {
	const much = massText(kg);
	const { men, women } = FILTER_KG;
	if (kg > TACKLE_KG) return `Up to ${much}: over ${TACKLE_KG} kg, so tackle alone, rated and tried for the load.`;
	if (kg > men)
		return `Up to ${much}: over the ${men} kg of the HSE guideline (${women} kg for women), so not for one person; two who have agreed how, or tackle.`;
	if (kg > women)
		return `Up to ${much}: over the ${women} kg of the HSE guideline for women and under the ${men} kg for men; these are filters for an easy lift close to the body, not limits.`;
	return `Up to ${much}: under the filters of the HSE guideline (${men} and ${women} kg), which hold for an easy lift close to the body.`;
}

/** From how many sides, and what that asks of the carver. */
export function sidesWords(sides: number | null, reach: string): string {
	if (sides === null)
		return `The saw does not reach through, even from two sides (${reach} from each): drill or wedge off what is left, or take a saw that reaches farther.`;
	return sides === 1
		? "Sawn through from one side."
		: `Sawn from two opposite sides (${reach} from each): turn the stone or the saw round before the cut closes.`;
}

export const STAND_WORDS = {
	firm: "The stone still stands in its lie by itself.",
	loose:
		"The stone NO LONGER STANDS by itself after this cut: prop it on the side that grows heavy before the saw starts.",
} as const;

/** Why one of the carver's own cuts is not made; `spare` says by how much. */
export const BAR_WORDS: Readonly<Record<CutBar, (spare: string, nearest: string) => string>> = {
	"too near": (spare, nearest) => `Not sawn: ${spare} too near to ${nearest}.`,
	misses: () => "Not sawn: it takes nothing off the stone, or all of it.",
	"takes the lie": () => "Not sawn: it takes away a face that the stone lies on later.",
	skipped: () => "Skipped: not sawn, and nothing like it is proposed.",
};

const PINCH: Caution = {
	about: "Pinch",
	words:
		"As the piece works loose the kerf closes on the blade. Wedges into the kerf behind the saw, prop first, last pass last.",
};

const SAW_CAUTIONS: Readonly<Record<SawKind, readonly Caution[]>> = {
	"hand disc": [
		{
			about: "Kickback",
			words:
				"Never cut with the upper quarter of the disc: the upper half throws the saw up and back (SafeWork NSW; WorkSafe WA, 2012). Both hands, stand aside of the disc, no cutting over shoulder height.",
		},
		{
			about: "Disc",
			words:
				"Rated for the speed, guard over at least 180° of it (WAC 296-807-18020). 50 to 60 mm deeper a pass at most; a 350 mm disc reaches 125 mm (a cut-off saw's manual). Straight in, never twisted: a bent disc bursts.",
		},
		PINCH,
	],
	"bridge saw": [
		{
			about: "Disc",
			words:
				"Guards and splash doors shut, nobody in line with the disc. The stone is wedged on its bed so that neither part can shift.",
		},
		PINCH,
	],
	"wire saw": [
		{
			about: "Wire",
			words:
				"A wire that breaks whips: screens up on both sides, nobody in line with the wire or within its length while it runs.",
		},
		PINCH,
	],
};

/** The cautions of a cut, for its drawing; `silica` is what is known of the stone's dust. */
export const cutCautions = (saw: SawKind, silica: string): Caution[] => [
	...SAW_CAUTIONS[saw],
	{
		about: "Dust",
		words: `Saw wet or extract at the blade, fitted mask, never dry sweeping; ${silica} (HSE HSG201, 2022); limit 0.1 mg/m³ over eight hours in the EU and the UK, 0.05 in the US.`,
	},
];

export interface StopCutFacts {
	readonly kerfs: number;
	readonly saw: string;
	readonly runs: "u" | "v";
	readonly from: string;
	readonly to: string;
	readonly stays: string;
	readonly mass: string;
}

/** How a field of stop cuts is sawn. */
export const stopCutWords = ({ kerfs, saw, runs, from, to, stays, mass }: StopCutFacts): string =>
	`${kerfs} kerfs along ${runs} (${saw}): each has its full depth from ${runs} = ${from} to ${to} and runs out beyond with the disc's round. Set the stop of the saw for every kerf. At least ${stays} stay over the figure under every kerf and under all stone between two kerfs. What is knocked off weighs ${mass}. A drill line that enters here has its depth counted from a straightedge laid across the field, as if the face were whole.`;

/** What keeps the stone from breaking deeper than it was sawn. */
export const KNOCKING =
	"Knock off from kerf to kerf, chisel across at the floor, short blows; never lever a slab against the stone behind it: it breaks deeper than the kerf. Goggles, and nobody in front.";
