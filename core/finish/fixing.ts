/** Fixing on a base: does it stand, by itself and on its base; the pin; what is lifted; when to ask an engineer. */

import { sinDegrees, tanDegrees } from "../exactAngle.ts";
import { hullFaces } from "../model/restingFaces.ts";
import type { Issue } from "../refusal.ts";
import type { Hull } from "../stone/hull.ts";
import type { MassRange } from "../stone/mass.ts";
import type { Vec3 } from "../vector.ts";
import { choosePin, type PinAnswer, type PinWishes } from "./choosePin.ts";
import { type Lift, recommendedKg } from "./lifting.ts";
import type { PinGauge } from "./pinHole.ts";
import { MEMORIAL_BARS, type PinRules } from "./pinRules.ts";
import { GRAVITY, type Place2, type Tipping, tippingOf, tippingPush } from "./tipping.ts";

/** A sawn base, its sides along the model's x, y and z, mm, its middle under the middle of the foot. */
export interface Base {
	readonly length: number;
	readonly width: number;
	readonly height: number;
	/** kg/m³, low and high. */
	readonly density: readonly [number, number];
}

export const STANDING_PLACES = ["indoors", "outdoors", "public", "overhead"] as const;
export type StandingPlace = (typeof STANDING_PLACES)[number];

export interface FixingWishes {
	readonly base: Base | null;
	/** Lean of the ground that it will stand on, degrees. */
	readonly slopeDeg: number;
	/** Least tipping angle that is called standing, degrees. */
	readonly leastTipDeg: number;
	readonly place: StandingPlace;
	readonly pin: PinWishes;
	readonly rules: PinRules;
	/** Share of resin that is wasted. */
	readonly resinWaste: number;
	/** How the figure is lifted. */
	readonly lift: Lift;
}

/** The finished figure in the model frame. */
export interface Figure {
	readonly hull: Hull;
	/** mm³ */
	readonly volume: number;
	readonly centre: Vec3;
	readonly mass: MassRange;
	/** null where the stone's absorption is not known. */
	readonly wet: MassRange | null;
	readonly height: number;
}

export interface FixingAnswer {
	readonly volume: number;
	readonly centre: Vec3;
	readonly mass: MassRange;
	readonly wet: MassRange | null;
	/** Corners of the contact with the ground, counter-clockwise from above, mm; null: it has no flat foot. */
	readonly foot: readonly Place2[] | null;
	readonly figure: Tipping | null;
	/** Figure and base as one; null without a base or a foot. */
	readonly whole: (Tipping & { readonly mass: MassRange; readonly baseMass: MassRange; readonly heavy: number }) | null;
	/** N: what the slope pulls the figure downhill with, at its greatest mass. */
	readonly slopeLoad: number;
	/** N: level push at the very top that tips figure (and base) at its least mass. */
	readonly topPush: number | null;
	readonly pin: PinAnswer | null;
	/** In the base, the same bar and hole; depth less where the base is too thin. */
	readonly baseDepth: number | null;
	/** mm³ with waste, both holes. */
	readonly resin: number | null;
	/** mm */
	readonly barLength: number | null;
	/** kg that the NIOSH equation recommends at most for one person and this lift. */
	readonly recommended: number;
	readonly stands: boolean;
	/** Why not, and why an engineer is asked; words by `refusalText`. */
	readonly reasons: readonly Issue[];
	readonly engineer: readonly Issue[];
}

const MM3_PER_M3 = 1e9;
/** Cosine over which a face of the hull counts as the one that the figure stands on: within 2.5°. */
const LEVEL = 0.999;

/** The foot as it stands: the hull's lowest level face. */
export function footOf(hull: Hull, centre: Vec3): Place2[] | null {
	const level = hullFaces(hull, centre)
		.filter(({ normal }) => normal[2] < -LEVEL)
		.sort((a, b) => b.area - a.area);
	// Seen from outside (below) the corners run counter-clockwise, from above the other way.
	return level.length > 0 ? level[0].polygon.map(([x, y]): Place2 => [x, y]).toReversed() : null;
}

export function fixingOf(figure: Figure, gauge: PinGauge | null, wishes: FixingWishes): FixingAnswer {
	const { centre, mass, height } = figure;
	const foot = footOf(figure.hull, centre);
	const under: Place2 = [centre[0], centre[1]];
	const own = foot && tippingOf(foot, under, centre[2]);
	const whole = foot && wishes.base ? onBase(figure, foot, wishes.base) : null;
	const pin =
		own && gauge && wishes.base
			? choosePin({ gauge, centre: under, margin: own.margin, height }, wishes.pin, wishes.rules)
			: null;
	const { baseDepth, barLength, resin } = pinStuff(pin, wishes);
	const acting = whole ?? own;
	const total = height + (whole && wishes.base ? wishes.base.height : 0);
	const least = tanDegrees(wishes.slopeDeg + wishes.leastTipDeg);
	const reasons: Issue[] = [];
	if (!foot) reasons.push({ code: "fixing.noFoot", facts: {} });
	if (own && own.tangent < least && !pin?.holds)
		reasons.push({
			code: "fixing.tips",
			facts: { angle: own.angle, slope: wishes.slopeDeg, least: wishes.leastTipDeg },
		});
	if (whole && whole.tangent < least)
		reasons.push({
			code: "fixing.baseTips",
			facts: { angle: whole.angle, slope: wishes.slopeDeg, least: wishes.leastTipDeg },
		});
	return {
		volume: figure.volume,
		centre,
		mass,
		wet: figure.wet,
		foot,
		figure: own,
		whole,
		slopeLoad: mass[1] * GRAVITY * sinDegrees(wishes.slopeDeg),
		topPush: acting && tippingPush(whole ? whole.mass[0] : mass[0], acting.margin, total),
		pin,
		baseDepth,
		resin,
		barLength,
		recommended: recommendedKg(wishes.lift),
		stands: reasons.length === 0 && (pin === null || pin.holds),
		reasons: pin ? [...reasons, ...pin.reasons] : reasons,
		engineer: engineerReasons(figure, wishes),
	};
}

/** Figure and base as one weight, at the figure's greatest and the base's least density: the side that tips sooner. */
function onBase(figure: Figure, foot: readonly Place2[], base: Base): NonNullable<FixingAnswer["whole"]> {
	const volume = base.length * base.width * base.height;
	const baseMass: MassRange = [(volume / MM3_PER_M3) * base.density[0], (volume / MM3_PER_M3) * base.density[1]];
	const [low, high] = [0, 1].map((axis): readonly [number, number] => {
		const along = foot.map((place) => place[axis]);
		return [Math.min(...along), Math.max(...along)];
	});
	const middle: Place2 = [(low[0] + low[1]) / 2, (high[0] + high[1]) / 2];
	const [hx, hy] = [base.length / 2, base.width / 2];
	const edge: Place2[] = [
		[middle[0] - hx, middle[1] - hy],
		[middle[0] + hx, middle[1] - hy],
		[middle[0] + hx, middle[1] + hy],
		[middle[0] - hx, middle[1] + hy],
	];
	const of = (figureKg: number, baseKg: number): Tipping & { readonly heavy: number } => {
		const share = figureKg / (figureKg + baseKg);
		const at: Place2 = [
			middle[0] + share * (figure.centre[0] - middle[0]),
			middle[1] + share * (figure.centre[1] - middle[1]),
		];
		const heavy = share * (base.height + figure.centre[2]) + (1 - share) * (base.height / 2);
		return { ...tippingOf(edge, at, heavy), heavy };
	};
	const worst = of(figure.mass[1], baseMass[0]);
	return { ...worst, mass: [figure.mass[0] + baseMass[0], figure.mass[1] + baseMass[1]], baseMass };
}

function pinStuff(pin: PinAnswer | null, wishes: FixingWishes) {
	if (!pin || !wishes.base) return { baseDepth: null, barLength: null, resin: null };
	const { setting } = pin;
	const room = Math.max(0, wishes.base.height - wishes.rules.cover_mm - wishes.rules.extra_mm);
	const baseDepth = Math.min(setting.embedded, room);
	const lost = (Math.PI / 4) * (setting.hole_mm * setting.hole_mm - setting.bar_mm * setting.bar_mm);
	const inBase = setting.resin - lost * (setting.embedded - baseDepth);
	return {
		baseDepth,
		barLength: setting.embedded + baseDepth,
		resin: (setting.resin + inBase) * (1 + wishes.resinWaste),
	};
}

/** Always said plainly (handbook 13). */
function engineerReasons(figure: Figure, wishes: FixingWishes): Issue[] {
	const asks: Issue[] = [];
	if (wishes.place === "overhead") asks.push({ code: "fixing.engineerOverhead", facts: {} });
	if (wishes.place === "outdoors") asks.push({ code: "fixing.engineerWind", facts: {} });
	if (wishes.place === "public") asks.push({ code: "fixing.engineerPublic", facts: {} });
	const most = MEMORIAL_BARS[MEMORIAL_BARS.length - 1].upTo_mm;
	const height = figure.height + (wishes.base?.height ?? 0);
	if (height > most) asks.push({ code: "fixing.engineerHeight", facts: { height, most } });
	return asks;
}
