/** The verdict on a scan in one line. */

import type { Mending, Soundness } from "../scan/soundness.ts";
import { shareText } from "./format.ts";

const AGAINST: Readonly<Record<Soundness["against"][number], string>> = {
	"wrong way": "it still faces both ways, so that outside and inside cannot be told and depths would go astray",
	crowded: "surfaces run into each other on much of it",
};

/** "drop doubled triangles, keep the largest piece alone" */
export function mendingWords(mending: Mending, length: (mm: number) => string): string {
	const words: string[] = [];
	if (mending.dropDoubled) words.push("drop doubled triangles");
	if (mending.keepLargestShell) words.push("keep the largest piece alone, without its crumbs");
	if (mending.faceOutward) words.push("face everything outwards");
	if (mending.closeHolesUpTo_mm !== undefined)
		words.push(`close holes with a rim up to ${length(mending.closeHolesUpTo_mm)}`);
	return words.join(", ");
}

export function soundnessText(sound: Soundness, length: (mm: number) => string): string {
	const { verdict, against, mending, open, crowded, more } = sound;
	const also = Object.keys(mending).length > 0 ? mendingWords(mending, length) : "";
	if (verdict === "unsound")
		return `Not sound to carve from: ${against.map((why) => AGAINST[why]).join("; ")} (${shareText(crowded)} of the surface is crowded). Have it scanned or repaired anew${also === "" ? "" : `; this much can be mended here: ${also}`}.`;
	if (verdict === "mend") return `Not to be carved from yet. Mend it first: ${also}. It is then judged again.`;
	const parts = [
		open
			? "Sound to carve from as an open shell: points can be had; weight and thickness only once it has a back"
			: "Sound to carve from: closed, facing outwards",
	];
	if (crowded >= 0.001) parts.push(`surfaces meet on ${shareText(crowded, 1)} of it, which does not hinder`);
	if (more > 0)
		parts.push(`${more === 1 ? "one more piece stays" : `${more} more pieces stay`}: look whether they belong to it`);
	return `${parts.join("; ")}.`;
}
