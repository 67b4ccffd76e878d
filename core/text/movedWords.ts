/** What a comparison of readings says, in a carver's words. */

import type { Verdict } from "../bench/moved.ts";
import type { ToRead } from "../bench/toRead.ts";
import type { Vec3 } from "../vector.ts";
import { finely, type LengthUnit, lengthText, shareText } from "./format.ts";

/** Towards growing and falling x, y, z of the stone. */
const WAYS = [
	["right", "left"],
	["back", "front"],
	["up", "down"],
] as const;
/** Under this a part of a shift is not worth a word, mm. */
const WORTH_SAYING = 0.15;

const STORY_WORDS = {
	"seat A": "seat A has moved",
	"seat B": "seat B has moved",
	"seat C": "seat C has moved",
	cross: "the cross has slipped as a whole",
	needle: "the needle or its stop has changed",
} as const;

/** "1.2 mm right, 0.4 mm down" */
function wayText(shift: Vec3, unit: LengthUnit): string {
	const parts = shift.flatMap((mm, k) =>
		Math.abs(mm) >= WORTH_SAYING ? [`${lengthText(Math.abs(mm), finely(unit))} ${WAYS[k][mm > 0 ? 0 : 1]}`] : [],
	);
	return parts.length > 0 ? parts.join(", ") : `under ${lengthText(WORTH_SAYING, unit, 2)} any way`;
}

/** How a place that is done is read again, by what stands on the bench. */
const HOW_READ = {
	machine: "with the needle, cross on its seats: what is left over the figure",
	callipers: "with the callipers from A, B and C, then a rule to the floor: what is left over the figure",
	faces: "with rod and rule down its line: the depth of the hole",
	straightedge: "from the straightedge on its rests: the depth of the hole, or what is left over the figure",
} as const;

/** Which readings are wanted today, how, where they are entered, and how many are there and lacking. */
export function toReadText(wanted: ToRead, transfer: keyof typeof HOW_READ): string[] {
	const { fewest, read, lacking, first, marks, points } = wanted;
	const there = `${read.length === 0 ? "None" : read.length} read again today${read.length === 0 ? "" : ` (${read.join(", ")})`}`;
	const words = [
		lacking === 0
			? `${there}: enough to tell, and more tell it better.`
			: `${there}; at least ${fewest} of one day can tell, ${lacking} ${lacking === 1 ? "is" : "are"} lacking.`,
	];
	if (first.length > 0)
		words.push(
			`Proof marks ${first.join(", ")} have no first reading yet: take it now, later ones are held against it. In the bench view, by “proof marks”.`,
		);
	if (marks.length > 0)
		words.push(`Read the proof marks again: ${marks.join(", ")}. In the bench view, by “proof marks”.`);
	if (points.length > 0)
		words.push(
			`Points that are done can be read again, far apart and not all along lines of one way, best in this order: ${points.join(", ")}. Each ${HOW_READ[transfer]}. In the bench view, at the point, by “reads …”.`,
		);
	else if (first.length + marks.length === 0 && lacking > 0)
		words.push("No other point is done that could be read again: go on drilling, and read them tomorrow.");
	return words;
}

/** Sentences in the order in which they matter; `names` of the readings as they were given. */
export function movedText(verdict: Verdict, names: readonly string[], unit: LengthUnit = "mm"): string[] {
	const { answer, named, likely, shift, needle, wild, noise, hides } = verdict;
	const words: string[] = [];
	if (answer === "nothing moved")
		words.push(
			`Nothing has moved, as far as ${names.length} readings tell (${shareText(likely.nothing)} likely); they agree to ${lengthText(noise, unit, 2)}. A move of a seat by under ${lengthText(Math.max(...hides), finely(unit))} may hide.`,
		);
	if (answer === "cannot tell")
		words.push(
			`${names.length} readings cannot tell: a seat could have moved ${Number.isFinite(Math.max(...hides)) ? lengthText(Math.max(...hides), finely(unit)) : "any way"} unseen. Read more places, far apart and along lines that do not all run one way.`,
		);
	if (answer === "moved") {
		const [first, ...others] = named;
		const sure = shareText(likely[first] / (1 - likely.nothing));
		const how =
			first === "needle" && needle !== null
				? `, ${lengthText(Math.abs(needle), finely(unit))} ${needle > 0 ? "longer" : "shorter"}`
				: shift && others.length === 0
					? `, ${wayText(shift, unit)}`
					: "";
		const either = named.map((story) => STORY_WORDS[story]).join(", or ");
		words.push(
			others.length === 0
				? `${sentence(STORY_WORDS[first])}${how} (${sure} sure).`
				: `${sentence(either)}: the readings cannot part them (the first ${sure}).`,
		);
		words.push(
			"Stop drilling. Check that seat and the cross, set them again and read the marks; until then use the corrected depths.",
		);
	}
	if (wild.length > 0)
		words.push(
			`Set aside as misread: ${wild.map((i) => names[i]).join(", ")}. Read ${wild.length === 1 ? "it" : "them"} again.`,
		);
	return words;
}

const sentence = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
