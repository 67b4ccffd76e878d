/**
 * Has anything moved? From readings of places that have not changed (proof marks, or points that are done) to a verdict: a
 * seat, the cross, the needle, or nothing; how sure; which way; and what every other depth must be corrected by (handbook 9).
 *
 * Every story is weighed by how well it explains the readings with its unknowns integrated out (`evidence.ts`), so that a
 * story with more freedom pays for it. Single wild readings are part of each story: up to two of them may be set aside.
 */

import type { Triangle } from "../datum/seatError.ts";
import { exp, ln } from "../exactLog.ts";
import { Refusal } from "../refusal.ts";
import { symmetricEigen } from "../symmetric.ts";
import { length, type Vec3 } from "../vector.ts";
import { explain, lnSum, type NoiseGrid, noiseAround } from "./evidence.ts";
import { type ReadPlace, STORIES, type Story, type StoryRule, storyRules } from "./stories.ts";

export interface MovedInput {
	/** A, B, C where the cross rests in the stone, stone frame, mm. */
	readonly seats: Triangle;
	/** Places that were read, stone frame, and how much higher than it should each reads, mm. */
	readonly readings: readonly (ReadPlace & { readonly off: number })[];
	/** Places whose depths are to be corrected, stone frame. */
	readonly places: readonly ReadPlace[];
	/** Noise of one reading as this bench usually has it, mm; the readings themselves then say what it is. Default 0.2. */
	readonly usualNoise?: number;
}

export interface Verdict {
	/** "cannot tell": too few readings, or so placed that a seat could move by `hides` mm unseen. */
	readonly answer: "nothing moved" | "moved" | "cannot tell";
	/** How likely each story is after the readings; they add to 1. */
	readonly likely: Readonly<Record<Story, number>>;
	/** The stories that may be named: one from 80 % on among those of a move, else as many as make 80 % together. */
	readonly named: readonly Exclude<Story, "nothing">[];
	/** Shift of the first one named, stone frame, mm: of the seat, or of the cross at the middle of its seats; else null. */
	readonly shift: Vec3 | null;
	/** Turn of the cross about the stone's axes, radians, where the cross is named first; else null. */
	readonly turn: Vec3 | null;
	/** How much the needle has grown, mm, where it is named first; else null. */
	readonly needle: number | null;
	/** Per place: how much farther out of the stone its stop must be set, mm; 0 where nothing moved. */
	readonly corrections: readonly number[];
	/** Indices of readings that are set aside as wild. */
	readonly wild: readonly number[];
	/** Noise of one reading as found, mm. */
	readonly noise: number;
	/**
	 * For A, B, C, mm: a move of this size shows in five of six cases along the better two of three square directions. The
	 * third may stay unseen, because depths hardly depend on it.
	 */
	readonly hides: Vec3;
}

/** A reading in fifty is wild, and then off by some three millimetres (common practice, no source). */
const WILD_SHARE = 0.02;
const WILD_SPREAD = 3;
/** Before anything is read: whoever reads has half a reason to (common practice, no source). */
const PRIOR: Readonly<Record<Story, number>> = {
	nothing: 0.5,
	"seat A": 0.12,
	"seat B": 0.12,
	"seat C": 0.12,
	cross: 0.07,
	needle: 0.07,
};
/** Usual noise of a needle's reading on stone, mm (common practice, no source). */
const USUAL_NOISE = 0.2;
/**
 * Odds of a move to nothing from which it is told, at that noise: false alarms stay under two in a hundred. The noisier the
 * bench, the less a story with three unknowns pays for them, so the odds grow with the cube of the usual noise over it, and
 * fall with its square under it; all by simulation (tests/core/bench/moved.test.ts).
 */
const TOLD_FROM = 1;
const NAMED_FROM = 0.8;
/** Fewer readings cannot part a move from their noise. */
export const FEWEST = 5;
/** A seat that could move this far unseen leaves the question open, mm. */
const OPEN_FROM = 4;
/** Readings that a story explains worst are tried as wild ones, the first of them in pairs; the others add next to nothing. */
const SUSPECTS = 4;
const PAIRED = 3;
/** Non-centrality at which a move of three unknowns is told in five of six cases at two false alarms in a hundred. */
const SEEN_AT = 17;

/** One way to explain the readings: a story, and which of them are set aside. */
interface Account {
	readonly rule: StoryRule;
	readonly aside: readonly number[];
	/** ln of prior × density, per noise of the grid. */
	readonly lnWeights: readonly number[];
	mean(noise: number): number[];
}

/** Throws Refusal for readings that are no numbers or lines that have no direction. */
export function hasMoved({ seats, readings, places, usualNoise = USUAL_NOISE }: MovedInput): Verdict {
	checkReadings(readings);
	const grid = noiseAround(usualNoise);
	const rules = storyRules(seats);
	const rows = rules.map((rule) => readings.map((reading) => rule.row(reading)));
	const accounts = allAccounts(
		rules,
		rows,
		readings.map((reading) => reading.off),
		grid,
	);
	const whole = lnSum(accounts.flatMap((account) => account.lnWeights));
	const shareOf = (ln: number): number => exp(ln - whole);

	const likely: Record<Story, number> = { nothing: 0, "seat A": 0, "seat B": 0, "seat C": 0, cross: 0, needle: 0 };
	const means = rules.map((rule) => rule.spread.map(() => 0));
	const aside = readings.map(() => 0);
	let noise = 0;
	for (const account of accounts) {
		const k = rules.indexOf(account.rule);
		account.lnWeights.forEach((lnWeight, s) => {
			const share = shareOf(lnWeight);
			if (share < 1e-12) return;
			likely[account.rule.story] += share;
			noise += share * grid.sigma[s];
			for (const i of account.aside) aside[i] += share;
			account.mean(s).forEach((value, j) => {
				means[k][j] += share * value;
			});
		});
	}
	const moved = 1 - likely.nothing;
	const noisier = usualNoise / USUAL_NOISE;
	const toldFrom = TOLD_FROM * noisier * noisier * Math.max(1, noisier);
	const hides = hiddenMoves(rules, rows, noise);
	const answer =
		moved > toldFrom * likely.nothing
			? "moved"
			: readings.length < FEWEST || Math.max(...hides) > OPEN_FROM
				? "cannot tell"
				: "nothing moved";
	const named = answer === "moved" ? namedStories(likely, moved) : [];
	// Means of a story's unknowns, given that story; together they are weighed by what is left after "nothing".
	const given = means.map((mean, k) => mean.map((value) => value / Math.max(1e-300, likely[rules[k].story])));
	const first = rules.findIndex((rule) => rule.story === named[0]);
	const unknowns = first < 0 ? [] : given[first];
	const three = (from: number): Vec3 => [unknowns[from], unknowns[from + 1], unknowns[from + 2]];
	return {
		answer,
		likely,
		named,
		shift: named.length > 0 && named[0] !== "needle" ? three(0) : null,
		turn: named[0] === "cross" ? three(3) : null,
		needle: named[0] === "needle" ? unknowns[0] : null,
		corrections: places.map((place) =>
			answer === "moved" ? rules.reduce((sum, rule, k) => sum + product(rule.row(place), means[k]) / moved, 0) : 0,
		),
		wild: aside.flatMap((share, i) => (share > 0.5 ? [i] : [])),
		noise,
		hides,
	};
}

function checkReadings(readings: MovedInput["readings"]): void {
	readings.forEach(({ at, line, off }, i) => {
		if (![...at, ...line, off].every(Number.isFinite))
			throw new Refusal("bench.reading", { reading: i + 1, found: off });
		if (Math.abs(length(line) - 1) > 1e-6) throw new Refusal("bench.line", { reading: i + 1, found: length(line) });
	});
}

const product = (a: readonly number[], b: readonly number[]): number => a.reduce((sum, x, i) => sum + x * b[i], 0);

/** Every story with no reading set aside, with one that it explains badly, and with two. */
function allAccounts(
	rules: readonly StoryRule[],
	rows: readonly (readonly (readonly number[])[])[],
	offs: readonly number[],
	grid: NoiseGrid,
): Account[] {
	const account = (k: number, aside: readonly number[]): Account => {
		const kept = offs.map((_, i) => i).filter((i) => !aside.includes(i));
		const found = explain(
			rules[k],
			kept.map((i) => rows[k][i]),
			kept.map((i) => offs[i]),
			grid,
		);
		const n = offs.length;
		const prior = ln(PRIOR[rules[k].story]) + aside.length * ln(WILD_SHARE) + (n - aside.length) * ln(1 - WILD_SHARE);
		const lnWeights = found.lnDensity.map((density, s) => {
			const variance = WILD_SPREAD * WILD_SPREAD + grid.sigma[s] * grid.sigma[s];
			const wild = aside.reduce((sum, i) => sum - 0.5 * (LN_2PI + ln(variance) + (offs[i] * offs[i]) / variance), 0);
			return prior + grid.lnPrior[s] + density + wild;
		});
		return { rule: rules[k], aside, lnWeights, mean: found.mean };
	};
	const accounts: Account[] = [];
	rules.forEach((_, k) => {
		const whole = account(k, []);
		accounts.push(whole);
		const suspects = farthestOff(whole, rows[k], offs, SUSPECTS);
		accounts.push(...suspects.map((i) => account(k, [i])));
		suspects.slice(0, PAIRED).forEach((i, at) => {
			for (const j of suspects.slice(at + 1, PAIRED)) accounts.push(account(k, [i, j]));
		});
	});
	return accounts;
}

/** The readings that a story explains worst, worst first. */
function farthestOff(
	{ lnWeights, mean }: Account,
	rows: readonly (readonly number[])[],
	offs: readonly number[],
	count: number,
): number[] {
	const likeliest = lnWeights.reduce((best, w, s) => (w > lnWeights[best] ? s : best), 0);
	const unknowns = mean(likeliest);
	return offs
		.map((off, i) => ({ i, left: Math.abs(off - product(rows[i], unknowns)) }))
		.sort((a, b) => b.left - a.left || a.i - b.i)
		.slice(0, count)
		.map(({ i }) => i);
}

const LN_2PI = 1.8378770664093453;

/** The likeliest moves, one that has 80 % of what is not "nothing", or as many as have it together. */
function namedStories(likely: Readonly<Record<Story, number>>, moved: number): Exclude<Story, "nothing">[] {
	const ranked = STORIES.filter((story) => story !== "nothing").sort(
		(a, b) => likely[b] - likely[a] || STORIES.indexOf(a) - STORIES.indexOf(b),
	);
	const named: Exclude<Story, "nothing">[] = [];
	let sum = 0;
	for (const story of ranked) {
		named.push(story);
		sum += likely[story];
		if (sum >= NAMED_FROM * moved) break;
	}
	return named;
}

/** For each seat, the move that changes the readings enough to be told along the second best of three square directions. */
function hiddenMoves(
	rules: readonly StoryRule[],
	rows: readonly (readonly (readonly number[])[])[],
	noise: number,
): Vec3 {
	const size = (story: Story): number => {
		const k = rules.findIndex((rule) => rule.story === story);
		const square = [0, 1, 2].map((i) => [0, 1, 2].map((j) => rows[k].reduce((sum, row) => sum + row[i] * row[j], 0)));
		const middle = symmetricEigen(square).values[1];
		return middle > 1e-9 ? noise * Math.sqrt(SEEN_AT / middle) : Number.POSITIVE_INFINITY;
	};
	return [size("seat A"), size("seat B"), size("seat C")];
}
