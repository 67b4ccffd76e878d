/** Words of the yard page: what whoever picks the stone must know, on a page that may be handed over alone. */

import { FILTER_KG, TACKLE_KG } from "../finish/lifting.ts";

/** What to look for at the yard; common practice, no source, where none is named. */
export const YARD_LOOKS: readonly { readonly about: string; readonly words: string }[] = [
	{
		about: "Sound",
		words:
			"Tap it all over while it stands free: a sound stone rings, a cracked one answers dull. Wet it: cracks stay dark longest.",
	},
	{
		about: "Flaws",
		words:
			"No crack, vent, soft seam or open vein in the hatched ground, and none that points into it. Chipped edges do no harm there.",
	},
	{
		about: "Bed",
		words:
			"Have the bed and its upper side marked on the stone before it leaves its place. Stood on edge, it splits along its bed in frost.",
	},
	{
		about: "Colour",
		words: "Look at it wet, in daylight; bands, fossils and rust go on inside as they begin outside.",
	},
	{
		about: "Size",
		words:
			"Measure twelve edges and both diagonals of every face, and plan again with what was found before it is unloaded.",
	},
];

export const LIFTING =
	"Two slings under it, a quarter in from either end (triangles), level about its middle (ringed cross). Pads under the edges. Nobody under it or beside it while it moves.";

export const OVER_HANDS = `over ${FILTER_KG.men} kg it is no easy lift for one (HSE guideline), over ${TACKLE_KG} kg tackle (common practice)`;
