/** Where a pin can stand and how thick it can be, near the centre of mass, with stone on every side (handbook 13). */

import type { Issue } from "../refusal.ts";
import { type PinGauge, type PinSetting, pinSetting } from "./pinHole.ts";
import { BARS_MM, DEPTH_BOUNDS, memorialBar, type PinRules } from "./pinRules.ts";
import type { Place2 } from "./tipping.ts";

export interface PinWishes {
	/** null: chosen. */
	readonly bar_mm: number | null;
	/** Depth of the bar in the figure, mm; null: by the rule. */
	readonly depth_mm: number | null;
	/** null: under the centre of mass, or as near to it as the cover allows. */
	readonly at: Place2 | null;
}

export interface PinAnswer {
	readonly holds: boolean;
	/** Why it does not hold, and what speaks against it; words by `refusalText`. */
	readonly reasons: readonly Issue[];
	readonly at: Place2;
	/** From under the centre of mass, mm. */
	readonly aside: number;
	readonly setting: PinSetting;
	/** Least stone round the hole, mm; null where no stone stands over the place. */
	readonly cover: number | null;
}

/** Places are tried in rings this far apart, mm, at most so many. */
const RING_MM = 4;
const MOST_RINGS = 12;
/** Eight ways out, unit vectors; between them the rings are close enough for a hole. */
const HALF = Math.SQRT1_2;
const WAYS: readonly Place2[] = [
	[1, 0],
	[HALF, HALF],
	[0, 1],
	[-HALF, HALF],
	[-1, 0],
	[-HALF, -HALF],
	[0, -1],
	[HALF, -HALF],
];

export interface PinGround {
	readonly gauge: PinGauge;
	/** Under the centre of mass. */
	readonly centre: Place2;
	/** Distance from there to the nearest edge of the foot, mm. */
	readonly margin: number;
	/** Of the figure, mm. */
	readonly height: number;
}

/** The thickest stocked bar that the rules allow, up to the one its height asks for, or why there is none. */
export function choosePin(ground: PinGround, wishes: PinWishes, rules: PinRules): PinAnswer {
	const asked = wishes.bar_mm ?? memorialBar(ground.height) ?? BARS_MM[BARS_MM.length - 1];
	const bars = wishes.bar_mm === null ? BARS_MM.filter((bar) => bar <= asked).toReversed() : [wishes.bar_mm];
	let best: PinAnswer | null = null;
	for (const bar of bars) {
		const answer = pinOf(ground, bar, wishes, rules);
		if (answer.holds) return answer;
		if (best === null || (answer.cover ?? -1) > (best.cover ?? -1)) best = answer;
	}
	return best as PinAnswer;
}

function pinOf(ground: PinGround, bar: number, wishes: PinWishes, rules: PinRules): PinAnswer {
	const embedded = wishes.depth_mm ?? rules.depthInBars * bar;
	const setting = pinSetting(bar, embedded, rules.clearance_mm, rules.extra_mm);
	const coverAt = (at: Place2): number | null =>
		ground.gauge.cover({ at, depth: setting.depth, radius: setting.hole_mm / 2 });
	let at = wishes.at ?? ground.centre;
	let cover = coverAt(at);
	const needs = needed(setting, rules);
	if (wishes.at === null && (cover === null || cover < needs)) {
		const better = lookAround(ground, coverAt, needs, rules);
		if (better && better.cover > (cover ?? -1)) {
			at = better.at;
			cover = better.cover;
		}
	}
	const [dx, dy] = [at[0] - ground.centre[0], at[1] - ground.centre[1]];
	const aside = Math.sqrt(dx * dx + dy * dy);
	const reasons = reasonsAgainst(setting, cover, aside, ground, rules);
	return { holds: reasons.length === 0, reasons, at, aside, setting, cover };
}

/** Cover at which both rules hold: the stone round the hole, and the bar's share of the thickness. */
const needed = ({ bar_mm, hole_mm }: PinSetting, rules: PinRules): number =>
	Math.max(rules.cover_mm, (bar_mm / rules.thicknessShare - hole_mm) / 2);

/** The nearest place with the cover that is needed, else the one with most. */
function lookAround(
	{ centre, margin }: PinGround,
	coverAt: (at: Place2) => number | null,
	needs: number,
	rules: PinRules,
): { at: Place2; cover: number } | null {
	let best: { at: Place2; cover: number } | null = null;
	const reach = rules.aside * Math.max(0, margin);
	for (let ring = 1; ring <= MOST_RINGS && ring * RING_MM <= reach; ring++) {
		for (const [wx, wy] of WAYS) {
			const at: Place2 = [centre[0] + wx * ring * RING_MM, centre[1] + wy * ring * RING_MM];
			const cover = coverAt(at);
			if (cover !== null && (best === null || cover > best.cover)) best = { at, cover };
		}
		if (best && best.cover >= needs) return best;
	}
	return best;
}

function reasonsAgainst(
	setting: PinSetting,
	cover: number | null,
	aside: number,
	ground: PinGround,
	rules: PinRules,
): Issue[] {
	const { bar_mm, hole_mm, embedded } = setting;
	if (cover === null) return [{ code: "fixing.noStone", facts: {} }];
	const reasons: Issue[] = [];
	if (cover <= 0) reasons.push({ code: "fixing.breaksOut", facts: { hole: hole_mm, depth: setting.depth } });
	else if (cover < rules.cover_mm) reasons.push({ code: "fixing.cover", facts: { cover, least: rules.cover_mm } });
	const thickness = 2 * cover + hole_mm;
	if (cover > 0 && bar_mm > rules.thicknessShare * thickness)
		reasons.push({ code: "fixing.thickBar", facts: { bar: bar_mm, thickness, share: rules.thicknessShare } });
	const inBars = embedded / bar_mm;
	if (inBars < DEPTH_BOUNDS.least || inBars > DEPTH_BOUNDS.most)
		reasons.push({ code: "fixing.depth", facts: { inBars, ...DEPTH_BOUNDS } });
	const most = rules.aside * Math.max(0, ground.margin);
	if (aside > most + 1e-9) reasons.push({ code: "fixing.aside", facts: { aside, most } });
	return reasons;
}
