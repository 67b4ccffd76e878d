import { describe, expect, it } from "vitest";
import { hasMoved, type Verdict } from "../../../core/bench/moved.ts";
import { type ReadPlace, type Story, storyRules } from "../../../core/bench/stories.ts";
import type { Triangle } from "../../../core/datum/seatError.ts";
import { type Random, seededRandom } from "../../../core/random.ts";
import { movedText } from "../../../core/text/movedWords.ts";
import { add, dot, scale, sub, type Vec3 } from "../../../core/vector.ts";
import { proving, share } from "../../support/prove.ts";
import { rigidBySvd } from "../../support/rigidBySvd.ts";
import { anyWay, drawn, frontPoints, LAYOUTS } from "./head.ts";

const NOISE = 0.2;
const READINGS = 12;
const ALL = frontPoints(60, 5);
const SEATS = ["seat A", "seat B", "seat C"] as const;

/** What a cross does whose seats went from `seats` to `now`: the rigid fit by singular values, not the program's own rule. */
const offBySvd = (seats: Triangle, now: readonly Vec3[]) => {
	const motion = rigidBySvd(seats, now);
	return ({ at, line }: ReadPlace): number => -dot(sub(motion.carry(at), at), line);
};

type Off = (place: ReadPlace) => number;
interface Move {
	readonly off: Off;
	readonly story: Story;
	/** Added to one reading. */
	readonly wild?: number;
}
const nothing = (): Move => ({ off: () => 0, story: "nothing" });
const oneSeat =
	(mm: number) =>
	(seats: Triangle, random: Random): Move => {
		const k = random.below(3);
		const shift = scale(anyWay(random), mm);
		const now = seats.map((p, i) => (i === k ? add(p, shift) : p));
		return { off: offBySvd(seats, now), story: SEATS[k] };
	};
/** About the middle of the seats, any axis. */
const turned =
	(degrees: number) =>
	(seats: Triangle, random: Random): Move => {
		const axis = anyWay(random);
		const angle = (degrees * Math.PI) / 180;
		const middle = scale(seats.reduce(add), 1 / 3);
		const now = seats.map((p) => {
			const r = sub(p, middle);
			const [x, y, z] = axis;
			const w: Vec3 = [y * r[2] - z * r[1], z * r[0] - x * r[2], x * r[1] - y * r[0]];
			const upright = scale(axis, dot(axis, r) * (1 - Math.cos(angle)));
			return add(middle, add(add(scale(r, Math.cos(angle)), scale(w, Math.sin(angle))), upright));
		});
		return { off: offBySvd(seats, now), story: "cross" };
	};

interface Tally {
	readonly rejected: number;
	readonly right: number;
	readonly alone: number;
	readonly nearer: number;
	readonly wild: number;
	readonly byLayout: readonly number[];
}

/** Shares over `trials` per layout; `right`: of all trials, told with the right story first. */
function tally(
	move: (seats: Triangle, random: Random) => Move,
	trials: number,
	noise = NOISE,
	usualNoise?: number,
): Tally {
	let [told, right, alone, nearer, wild] = [0, 0, 0, 0, 0];
	const byLayout = Object.values(LAYOUTS).map((seats) => {
		let here = 0;
		for (let trial = 0; trial < trials; trial++) {
			const random = seededRandom(1000 * trial + 7);
			const chosen = drawn(random, ALL, READINGS);
			const { off, story, wild: misread = 0 } = move(seats, random);
			const readings = chosen.map((place) => ({ ...place, off: off(place) + noise * random.normal() }));
			const w = random.below(READINGS);
			readings[w].off += misread;
			const verdict = hasMoved({ seats, readings, places: ALL, usualNoise });
			if (misread !== 0 && verdict.wild.includes(w)) wild++;
			if (verdict.answer !== "moved") continue;
			here++;
			if (verdict.named[0] === story) right++;
			if (verdict.named[0] === story && verdict.named.length === 1) alone++;
			const before = ALL.reduce((sum, place) => sum + off(place) * off(place), 0);
			const after = ALL.reduce((sum, place, i) => sum + (off(place) - verdict.corrections[i]) ** 2, 0);
			if (after < before) nearer++;
		}
		told += here;
		return here / trials;
	});
	const of = trials * byLayout.length;
	return {
		rejected: told / of,
		right: right / of,
		alone: alone / of,
		nearer: told === 0 ? 1 : nearer / told,
		wild: wild / of,
		byLayout,
	};
}

/** A tenth of the trials may miss a rate by a little that the whole does not. */
const slack = proving ? 0 : 0.02;
const percent = (x: number): string => `${(100 * x).toFixed(1)} %`;

describe(`has anything moved: ${READINGS} readings on a 300 mm head, noise ${NOISE} mm unknown to the program`, () => {
	const trials = share(1000);
	const shown = (name: string, t: Tally): void =>
		console.info(
			`${name}: told ${percent(t.rejected)} (${t.byLayout.map((x) => Math.round(100 * x)).join(", ")}), right first ${percent(t.right)}, alone ${percent(t.alone)}, corrected nearer ${percent(t.nearer)}, wild set aside ${percent(t.wild)}`,
		);

	it("gives at most 2 % false alarms", () => {
		const t = tally(nothing, trials);
		shown("nothing moved", t);
		expect(t.rejected).toBeLessThanOrEqual(0.02 + slack / 2);
	});

	it.each([
		[0.5, 0, 0, 0],
		[1, 0.55, 0.4, 0.9],
		[1.5, 0.85, 0.7, 0.96],
		[2, 0.95, 0.82, 0.96],
		[3, 0.95, 0.82, 0.96],
	])("tells %f mm at one seat, names it, and corrects the depths", (mm, told, right, nearer) => {
		const t = tally(oneSeat(mm), trials);
		shown(`${mm} mm at one seat`, t);
		expect(t.rejected).toBeGreaterThanOrEqual(told - slack);
		expect(t.right).toBeGreaterThanOrEqual(right - slack);
		expect(t.nearer).toBeGreaterThanOrEqual(nearer);
	});

	it("rates for a turn of the cross and a longer needle are printed; the needle is named", () => {
		shown("0.3° turn of the cross", tally(turned(0.3), trials));
		shown("1.5° turn of the cross", tally(turned(1.5), trials));
		const needle = tally(() => ({ off: () => 0.5, story: "needle" }), trials);
		shown("needle 0.5 mm longer", needle);
		expect(needle.rejected).toBeGreaterThan(0.98);
		expect(needle.right).toBeGreaterThan(0.95);
	});

	it("sets a wild reading of 3 mm aside", () => {
		const t = tally((_, random) => ({ ...nothing(), wild: random.next() < 0.5 ? 3 : -3 }), trials);
		shown("one wild reading of 3 mm", t);
		expect(t.wild).toBeGreaterThanOrEqual(0.98);
		expect(t.rejected).toBeLessThan(0.05);
	});

	it("keeps false alarms down on a finer and a coarser bench that is known for it", () => {
		for (const noise of [0.1, 0.4]) {
			const t = tally(nothing, trials, noise, noise);
			shown(`nothing moved, noise ${noise} mm usual`, t);
			expect(t.rejected).toBeLessThanOrEqual(0.02 + slack / 2);
		}
	});
});

describe("the rule of a seat", () => {
	it("is the motion of the rigid fit by singular values, to first order", () => {
		for (const seats of Object.values(LAYOUTS)) {
			const rules = storyRules(seats);
			for (let k = 0; k < 3; k++) {
				const shift: Vec3 = [0.003, -0.002, 0.004];
				const off = offBySvd(
					seats,
					seats.map((p, i) => (i === k ? add(p, shift) : p)),
				);
				for (const place of ALL)
					expect(dot(rules[k + 1].row(place) as unknown as Vec3, shift)).toBeCloseTo(off(place), 6);
			}
		}
	});
});

describe("a verdict", () => {
	const seats = LAYOUTS["base only"];
	const read = (places: readonly ReadPlace[], off: Off): Verdict =>
		hasMoved({
			seats,
			readings: places.map((place, i) => ({ ...place, off: off(place) + (i % 2 ? 0.1 : -0.1) })),
			places: ALL,
		});

	it("names how far and which way, and what to correct", () => {
		const now = seats.map((p, i): Vec3 => (i === 1 ? [p[0] + 3, p[1], p[2] - 1] : p));
		const off = offBySvd(seats, now);
		const verdict = read(ALL.slice(0, 30), off);
		expect(verdict.answer).toBe("moved");
		expect(verdict.named).toEqual(["seat B"]);
		expect(Math.hypot(...sub(verdict.shift!, [3, 0, -1]))).toBeLessThan(0.8);
		ALL.forEach((place, i) => {
			expect(Math.abs(verdict.corrections[i] - off(place))).toBeLessThan(0.3);
		});
		const [first] = movedText(
			verdict,
			ALL.slice(0, 30).map((_, i) => String(i + 1)),
		);
		expect(first).toMatch(/^Seat B has moved, .* right.*sure\)\.$/);
	});

	it("says when it cannot tell: too few readings, or all of them along one line", () => {
		expect(read(ALL.slice(0, 3), () => 0).answer).toBe("cannot tell");
		const one = Array.from({ length: 12 }, (): ReadPlace => ({ at: [0, 0, 15], line: [1, 0, 0] }));
		const verdict = read(one, () => 0);
		expect(verdict.answer).toBe("cannot tell");
		expect(movedText(verdict, one.map(String))[0]).toContain("cannot tell");
		expect(read([], () => 0).answer).toBe("cannot tell");
	});

	it("says nothing has moved, and what could hide", () => {
		const verdict = read(ALL, () => 0);
		expect(verdict.answer).toBe("nothing moved");
		expect(verdict.corrections.every((c) => c === 0)).toBe(true);
		expect(Math.max(...verdict.hides)).toBeLessThan(2);
		expect(Object.values(verdict.likely).reduce((a, b) => a + b)).toBeCloseTo(1, 9);
	});

	it("does not change when stone and seats are turned over together", () => {
		const turn = ([x, y, z]: Vec3): Vec3 => [y, -z, -x];
		const off = (p: ReadPlace): number => 0.01 * p.at[0];
		const readings = ALL.slice(0, 12).map((place) => ({ ...place, off: off(place) }));
		const straight = hasMoved({ seats, readings, places: ALL });
		const over = hasMoved({
			seats: seats.map(turn) as unknown as Triangle,
			readings: readings.map((r) => ({ ...r, at: turn(r.at), line: turn(r.line) })),
			places: ALL.map((p) => ({ at: turn(p.at), line: turn(p.line) })),
		});
		expect(over.answer).toBe(straight.answer);
		straight.corrections.forEach((c, i) => {
			expect(over.corrections[i]).toBeCloseTo(c, 9);
		});
	});

	it("refuses readings that are no lengths", () => {
		expect(() => read(ALL.slice(0, 6), () => Number.NaN)).toThrowError(/bench\.reading/);
		expect(() => hasMoved({ seats, readings: [{ at: [0, 0, 0], line: [0, 0, 2], off: 0 }], places: [] })).toThrowError(
			/bench\.line/,
		);
	});
});
