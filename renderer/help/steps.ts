/** A worked commission in steps, with pictures taken from the window itself. */

import bench from "./bench.png";
import finish from "./finish.png";
import map from "./map.png";
import model from "./model.png";
import stone from "./stone.png";
import window from "./window.png";

export interface HelpStep {
	readonly title: string;
	readonly text: readonly string[];
	readonly picture: string;
	/** What the picture shows, for whoever cannot see it. */
	readonly shows: string;
}

export const STEPS: readonly HelpStep[] = [
	{
		title: "Say what stands on the bench",
		text: [
			"Page 1, Model. The choice decides which columns, errors and cautions you will see: a cast with a pointing machine, a cast with three callipers, only the scan and the block's faces, or a straightedge over a relief. The owl is drilled from the block's faces.",
			"Say whether it stands like this, and look at the height. A scan carries no unit: where its size leaves that in doubt you are asked, and nothing is assumed. One line says whether you may carve from this scan, or what to mend first; step through the places if you want to see them. The file itself is never touched.",
		],
		picture: model,
		shows: "Page 1 open beside the owl as plaster",
	},
	{
		title: "See whether it fits the stone",
		text: [
			"Page 2, Stone. Enter the sides of the block and the margins. The answer is proved both ways: a placement with its clearance, and a bound that no other placement can beat. It holds for the sizes given, so measure the block again when it is delivered.",
			"Where it does not fit, the tight places are marked, and the largest size and the smallest block to order stand below. Broken corners, flaws and the natural bed are entered here too, and the cuts that free the figure.",
		],
		picture: stone,
		shows: "Page 2: the fit with its gaps, the owl in its block with the tightest ways marked",
	},
	{
		title: "Look at the points",
		text: [
			"Page 3, Points. Where a cross or callipers rest on them, datums first: they are suggested so that an error of a seat does the least harm. Then the rounds: how much stone the join leaves, which drill, how many points. The closer the allowance, the denser the net; each round says how much cover a flat join leaves, measured on the scan, and where least. If you know how many points you want in all, type that number over them.",
			"Every point has a line that touches nothing but waste, with your hand's error counted in. Those that no drill reaches are listed as undercuts with what is in the way and what would open them.",
		],
		picture: window,
		shows: "The window: day book on the left, the owl in its block on the banker, the tape of points below",
	},
	{
		title: "Print the sheet",
		text: [
			"Page 4, Bench. Choose the paper and look at the maps. Measure the 100 mm bar on the print in both directions before you trust a map. Mark seats first, then points in the order of their numbers: on the face at u and v, leaning as the table says, down to the depth.",
		],
		picture: map,
		shows: "A page of the printed map: the owl from the front, every point with its mark and number",
	},
	{
		title: "Work, and keep the log",
		text: [
			"The bench view shows one point at a time in large type; the bench page is the same as one file for a tablet without a network. Press done, enter what you read, and it says what the reading means. The log counts what is left and for how many days.",
			"Read the proof marks morning and evening: from them the planner tells whether a seat, the cross or the needle has moved, and corrects the depths. After a break or a hole too deep, place the figure anew in the stone that is left.",
		],
		picture: bench,
		shows: "The bench view: point 1 with its face, u, v, leans, drill and depth in large type",
	},
	{
		title: "Finish, fix, and send the bill",
		text: [
			"Page 5, Finish. The chain of abrasives inside the last allowance, gilded areas, the pin in the foot, the weight to be lifted, and the quote with every assumption listed. Read the cautions before you start; local rules come first.",
		],
		picture: finish,
		shows: "Page 5: the chain of grades, the owl with its centre of gravity",
	},
];
