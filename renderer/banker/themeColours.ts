import type { BankerColours } from "./banker.ts";

/** The colours of the theme as the style sheet has them. */
export function themeColours(): BankerColours {
	const style = getComputedStyle(document.documentElement);
	const of = (name: string): string => style.getPropertyValue(name).trim();
	return {
		ink: of("--disc-ink"),
		halo: of("--disc"),
		raddle: of("--raddle"),
		onRaddle: of("--on-raddle"),
		focus: of("--focus"),
		font: of("--hand"),
		bookFont: of("--book"),
		stoneEdge: of("--stone-edge"),
		stoneFace: of("--stone-face"),
		ground: of("--ground"),
		slate: of("--slate"),
		wall: of("--wall-top"),
		wallInk: of("--ink"),
	};
}
