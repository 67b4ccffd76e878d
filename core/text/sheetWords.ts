/** Words of the printed sheets: sides, what stands on the bench, how to read a line, cautions. */

import type { FaceName, Transfer } from "../plan/commission.ts";

export const SIDE_WORDS: Readonly<Record<FaceName, { readonly seen: string }>> = {
	front: { seen: "Seen from the front" },
	back: { seen: "Seen from the back" },
	left: { seen: "Seen from the left side of the stone" },
	right: { seen: "Seen from the right side of the stone" },
	top: { seen: "Seen from above" },
	bed: { seen: "Seen from below" },
};

export const TRANSFER_WORDS: Readonly<Record<Transfer, { readonly bench: string; readonly how: string }>> = {
	machine: {
		bench: "a cast or print at full size, with a pointing machine",
		how: "The cross rests on A, B and C; the needle is set on the model and carried over to the stone.",
	},
	callipers: {
		bench: "a cast or print, with three callipers",
		how: "Three lengths from A, B and C find each point: on the model to the target, on the stone to the floor of the hole.",
	},
	faces: {
		bench: "the scan alone: drilled by rule from the block's faces",
		how: "Each hole starts at u and v on a face, leans as given, and goes down to its depth.",
	},
	straightedge: {
		bench: "a relief: straightedge across its margins, depth below it",
		how: "The straightedge lies on the margins; each depth is measured square below it.",
	},
};

/** How a seat is made (handbook 9). */
export const SEAT_WORDS =
	"Mark each seat by u and v on its face, drill it oversize at its leans to its depth, and set the cross's own foot or the callipers' plug in it with the cross in place. Then measure AB, BC and CA between the feet.";

/** Where the straightedge lies (handbook 2). */
export const EDGE_WORDS =
	"The straightedge lies across rests at A, B and C, of one height over the margins of model and stone. Mark each by u and v on its face and set its top to its depth. Then measure AB, BC and CA between the rests.";

/** What a proof mark is for (handbook 1). */
export const PROOF_WORDS =
	"Scratch each mark on the skin and on the model, set the needle on the model, and read it on the stone square to its face. Nothing is drilled there. A reading that has changed says that a seat, the cross or the needle has moved.";

/** The columns of the table, each with what it tells; used for the head of the tables and for how to read a line. */
export const columnWords = (
	transfer: Transfer,
	out: string,
): readonly { readonly column: string; readonly tells: string }[] => {
	const words = [
		{ column: "no., mark", tells: "the point, as on its map; also the order of work. The mark says round and side" },
		{ column: "map page", tells: "where its number stands on the maps; the index says the same the other way round" },
	];
	if (transfer !== "machine")
		words.push(
			{ column: "u, v", tells: "where the drill enters, from the zero corner of the face" },
			{
				column: "lean u, v",
				tells: "degrees from square to the face; plus: the drill's free end leans towards growing u or v",
			},
		);
	if (transfer === "faces")
		words.push({
			column: `${out} u, v`,
			tells: "the same line that far out from the face: how far a square and a rule find it off to the side",
		});
	words.push(
		{ column: "drill Ø", tells: "the drill" },
		{ column: "depth", tells: "from the skin to the tip of the drill, already rounded short" },
		{ column: "safe to", tells: "how far the lean may be out before the depth cuts the finished surface" },
		{ column: "to go", tells: "stone that stands over the tip when this round starts" },
	);
	if (transfer === "callipers")
		words.push(
			{ column: "model A, B, C", tells: "from the datums to the target, on the bench model" },
			{ column: "stone A, B, C", tells: "from the seats to the floor of the hole, on the stone" },
			{
				column: "side of ABC",
				tells: "which of the two places the three lengths find; “?”: too near the plane of A, B, C, not reliable",
			},
		);
	if (transfer === "straightedge")
		words.push(
			{
				column: "model",
				tells:
					"under a straightedge across A, B and C: along from A towards B, across towards C, square below it to the surface",
			},
			{
				column: "stone below",
				tells: "the same on the stone's seats, square below the straightedge to the floor of the hole",
			},
		);
	words.push({
		column: "note",
		tells:
			"eye: read the curve by eye; thin: under 15 mm of stone, no hammer; by 7: close to the hole of 7; at A: runs into the boss of seat A, left until the seats are given up",
	});
	return words;
};

/** One caution: what about, the figures with their source, what follows. */
export interface Caution {
	readonly about: string;
	readonly words: string;
}

interface SilicaShare {
	readonly stone: RegExp;
	readonly words: string;
}

/** HSE HSG201 (2022), reproduced by HSENI; the upper end for marble from HSE's answers to stoneworkers. */
const SILICA: readonly SilicaShare[] = [
	{ stone: /sandstone|gritstone|quartzite/i, words: "sandstone, gritstone and quartzite: over 70 % silica" },
	{ stone: /granite/i, words: "granite: 20 to 45 % silica, typically 30 %" },
	{ stone: /slate/i, words: "slate: 20 to 40 % silica" },
	{ stone: /limestone|chalk/i, words: "limestone: up to 5 % silica, typically under 2 %" },
	{ stone: /marble/i, words: "marble: typically up to 5 % silica, but veins can raise it to 30 %; not silica-free" },
	{ stone: /basalt|dolerite/i, words: "basalt and dolerite: up to 5 % silica" },
];

export function silicaWords(stone: string): string {
	return (
		SILICA.find((s) => s.stone.test(stone))?.words ??
		"no figure for this stone here: ask for its silica share and take it as high until you know"
	);
}

/**
 * The cautions of handbook 14, with the published figures and where they come from. `wetKg` is the upper end of the block's
 * mass when it is soaked, where that is known. Sources are named in the sentences themselves.
 */
export function cautionsFor(
	stone: string,
	blockKg: string,
	figureKg: string | null,
	wetKg: string | null = null,
): Caution[] {
	const figure = figureKg === null ? "" : `, the figure ${figureKg}`;
	const wet = wetKg === null ? "wet stone weighs more" : `wet up to ${wetKg}`;
	return [
		{
			about: "Dust",
			words: `${silicaWords(stone)} (HSE HSG201, 2022). Respirable silica over eight hours: limit 0.1 mg/m³ in the EU (Directive 2004/37/EC) and the UK (EH40), 0.05 mg/m³ in the US (29 CFR 1926.1153). Sawing, grinding and power hammers dry raise far more of it than drilling or hand tools do; no tool raises none. Wear a mask that has been fitted to your face, extract at the tool or work wet, never sweep dry.`,
		},
		{
			about: "Vibration",
			words:
				"Hand and arm over the day, A(8): action at 2.5 m/s², limit at 5.0 m/s² (Directive 2002/44/EC). Published for the trade: grinder cutting stone 9 m/s², which reaches the action value in about 37 minutes; pistol hammer 13 m/s², in about 18 (HSE stonemasonry). The exposures of a day add up over all tools.",
		},
		{
			about: "Noise",
			words:
				"Action at 80 and 85 dB(A), limit 87 dB(A) at the ear over the day (Directive 2003/10/EC, from memory). Grinders, saws and hammers on stone pass these: wear protection, and mind who stands near.",
		},
		{
			about: "Lifting",
			words: `This block weighs ${blockKg} dry${figure}; ${wet}. 25 kg and 16 kg (men, women; HSE guideline) are filters for an easy lift close to the body, not limits that are safe. Over 50 kg use tackle. Nobody stands under or beside a stone that is being turned; prop it before it tips.`,
		},
		{
			about: "Electricity and water",
			words:
				"Wet work with air tools or low voltage; mains only behind a residual-current device of 30 mA that has been tried today. Plugs and leads off the floor.",
		},
		{
			about: "Eyes and hands",
			words: "Goggles at every blow and every cut, for whoever watches too. Gloves off near turning drills.",
		},
		{
			about: "Cutting",
			words:
				"A piece that comes loose closes the kerf and pinches the disc: wedge and prop it before the last pass. Never cut with the upper quarter of the disc, it throws the saw back (SafeWork NSW). Guard on, disc rated for the speed.",
		},
		{
			about: "Drilling",
			words:
				"A drill that breaks through or binds snatches: side handle on, feet firm, no wrist locked. Let the bit clear.",
		},
		{
			about: "Resin, solvents, oil",
			words:
				"Follow the maker's sheet. Rags with oil can light by themselves: spread them out or keep them under water.",
		},
		{ about: "Working alone", words: "Someone knows where you are and when you stop. No lifting or sawing alone." },
	];
}

export const CAUTION_LAST =
	"These figures are published values for orientation. Local rules come first, and the practice of licensed trades where they ask for it.";
