import { describe, expect, it } from "vitest";
import { checkReadings } from "../../../core/bench/checkReadings.ts";
import { countedEntries, mergeLogs, standings } from "../../../core/bench/log.ts";
import { hasMoved } from "../../../core/bench/moved.ts";
import { paceOf, progressOf, studentTenth } from "../../../core/bench/progress.ts";
import { logSchema } from "../../../core/plan/commission/log.ts";
import type { LogEntry } from "../../../core/plan/commission.ts";
import { seededRandom } from "../../../core/random.ts";
import { readingWords } from "../../../core/text/benchWords.ts";
import { handPlan } from "../../support/handPlan.ts";

let made = 0;
const id = (): string => `entry${String(made++).padStart(6, "0")}`;
const done = (point: number, at: string): LogEntry => ({ kind: "done", id: id(), at, hand: "", point, seconds: null });
const reading = (point: number, over_mm: number, at: string): LogEntry => ({
	kind: "reading",
	id: id(),
	at,
	hand: "",
	point,
	over_mm,
});
const back = (of: string, at: string): LogEntry => ({ kind: "taken back", id: id(), at, hand: "", of });

describe("the log", () => {
	it("counts the last reading of a point and forgets what was taken back", () => {
		const first = reading(3, 4.5, "2026-03-02T09:00:00");
		const wrong = reading(3, 45, "2026-03-02T09:05:00");
		const log = [wrong, first, done(3, "2026-03-02T09:04:00"), back(wrong.id, "2026-03-02T09:06:00")];
		const standing = standings(log).get(3);
		expect(standing).toMatchObject({ done: true, over: 4.5, doneAt: "2026-03-02T09:04:00" });
	});

	it("joins with another in any order, any number of times, to the same log", () => {
		const random = seededRandom(5);
		const all: LogEntry[] = [];
		for (let i = 0; i < 200; i++) {
			const at = `2026-03-0${1 + random.below(9)}T0${random.below(10)}:1${random.below(10)}:00`;
			all.push(
				random.below(5) === 0 && all.length > 0 ? back(all[random.below(all.length)].id, at) : done(1 + (i % 40), at),
			);
		}
		const one = all.filter(() => random.below(3) > 0);
		const other = all.filter((entry) => !one.includes(entry) || random.below(2) === 0);
		const joined = mergeLogs(one, other);
		expect(mergeLogs(other, one)).toEqual(joined);
		expect(mergeLogs(joined, one)).toEqual(joined);
		expect(joined).toHaveLength(all.length);
		expect(new Set(joined.map((entry) => entry.id))).toEqual(new Set(all.map((entry) => entry.id)));
		expect(logSchema.parse(JSON.parse(JSON.stringify(joined)))).toEqual(joined);
		// An entry and its taking back may come from two tablets.
		const gone = new Set(all.flatMap((entry) => (entry.kind === "taken back" ? [entry.of] : [])));
		expect(countedEntries(joined).some((entry) => gone.has(entry.id))).toBe(false);
	});
});

describe("progress", () => {
	const { plan } = handPlan({ points: 90, seed: 4 });
	const drilled = plan.points.filter((point) => !point.undercut);

	it("adds up over rounds and sides, and leaves undercuts out", () => {
		const log = drilled.slice(0, 31).map((point) => done(point.number, "2026-03-02T10:00:00"));
		const progress = progressOf(plan, [...log, done(99_999, "2026-03-02T10:00:00")]);
		expect(progress.done).toBe(31);
		expect(progress.points).toBe(drilled.length);
		expect(progress.left.map((point) => point.number)).toEqual(drilled.slice(31).map((point) => point.number));
		expect(progress.byRound.reduce((sum, round) => sum + round.done, 0)).toBe(31);
		expect(progress.byRound.reduce((sum, round) => sum + round.points, 0)).toBe(drilled.length);
		expect(progress.unknown).toEqual([99_999]);
	});
});

describe("pace", () => {
	const days = (counts: readonly number[]): LogEntry[] =>
		counts.flatMap((points, day) =>
			Array.from({ length: points }, (_, i) =>
				done(1000 * day + i + 1, `2026-03-${String(day + 1).padStart(2, "0")}T10:00:00`),
			),
		);

	it("takes 30 to 40 points a day (common practice, no source) until three days are known", () => {
		const pace = paceOf(days([20, 22]), 120);
		expect(pace.usual).toBe(true);
		expect(pace.daysLeft.low).toBe(3);
		expect(pace.daysLeft.high).toBe(4);
	});

	it("covers the days that are really needed about four times in five", () => {
		// Simulated days of one pace; the promise is that of the interval, so it is what is counted.
		const random = seededRandom(11);
		const ofDay = (): number => 20 + random.below(21);
		let covered = 0;
		const trials = 1500;
		for (let t = 0; t < trials; t++) {
			const { daysLeft } = paceOf(days(Array.from({ length: 15 }, ofDay)), 400);
			let left = 400;
			let needed = 0;
			while (left > 0) {
				const today = ofDay();
				needed += Math.min(1, left / today);
				left -= today;
			}
			if (needed >= daysLeft.low && needed <= daysLeft.high) covered++;
		}
		expect(covered / trials).toBeGreaterThan(0.74);
		expect(covered / trials).toBeLessThan(0.86);
	});

	it("takes Student's quantiles (NIST/SEMATECH e-Handbook, table 1.3.6.7.2)", () => {
		for (const [freedom, quantile] of [
			[2, 1.886],
			[5, 1.476],
			[10, 1.372],
			[30, 1.31],
		])
			expect(Math.abs(studentTenth(freedom) / quantile - 1)).toBeLessThan(0.021);
	});

	it("has no spread where every day was alike", () => {
		const { daysLeft, perDay } = paceOf(days([30, 30, 30]), 60);
		expect(perDay).toBe(30);
		expect([daysLeft.low, daysLeft.likely, daysLeft.high]).toEqual([2, 2, 2]);
	});
});

describe("readings that say whether something has moved", () => {
	const { plan } = handPlan({ points: 90, seed: 4 });
	const drilled = plan.points.filter((point) => !point.undercut);

	it("are those of the last day on which places were read again, against what they read when they were done", () => {
		const log: LogEntry[] = [];
		for (const [i, { number, stop_mm }] of drilled.slice(0, 14).entries()) {
			// Every other point was read when it was done, 0.3 mm short of its stop.
			if (i % 2 === 0) log.push(reading(number, (stop_mm as number) + 0.3, "2026-03-02T09:00:00"));
			log.push(done(number, "2026-03-02T09:01:00"));
		}
		expect(checkReadings(plan, log).day).toBeNull();
		for (const { number, stop_mm } of drilled.slice(0, 5))
			log.push(reading(number, (stop_mm as number) + 9, "2026-03-03T09:00:00"));
		for (const { number, stop_mm } of drilled.slice(0, 12))
			log.push(reading(number, (stop_mm as number) + 0.5, "2026-03-04T09:00:00"));
		const { input, names, day, left } = checkReadings(plan, log);
		expect(day).toBe("2026-03-04");
		expect([...names].sort()).toEqual(
			drilled
				.slice(0, 12)
				.map((p) => String(p.number))
				.sort(),
		);
		const before = new Set(
			drilled
				.slice(0, 14)
				.filter((_, i) => i % 2 === 0)
				.map((p) => String(p.number)),
		);
		input.readings.forEach(({ off }, i) => {
			expect(off).toBeCloseTo(before.has(names[i]) ? 0.2 : 0.5, 9);
		});
		expect(left.map((p) => p.number)).toEqual(drilled.slice(14).map((p) => p.number));
		// The floor of a hole lies its depth along the line from the entry.
		const first = plan.points.find((p) => String(p.number) === names[0]) as (typeof drilled)[0];
		const reach = input.readings[0].at.map((x, k) => (first.entry_mm as number[])[k] - x);
		expect(Math.hypot(...reach)).toBeCloseTo(first.depth_mm as number, 6);
		expect(input.seats).toEqual(plan.datumSets[0].datums.map((datum) => datum.stone_mm));
	});

	it("name a needle that has grown, by way of the log", () => {
		const log: LogEntry[] = [];
		const random = seededRandom(3);
		for (const { number, stop_mm } of drilled.slice(0, 14)) {
			log.push(done(number, "2026-03-02T09:01:00"));
			const noise = 0.1 * (random.next() + random.next() + random.next() + random.next() - 2);
			log.push(reading(number, (stop_mm as number) + 1.5 + noise, "2026-03-03T09:01:00"));
		}
		const verdict = hasMoved(checkReadings(plan, log).input);
		expect(verdict.answer).toBe("moved");
		expect(verdict.named[0]).toBe("needle");
		expect(verdict.needle).toBeCloseTo(1.5, 0);
	});
});

it("says what a reading means", () => {
	expect(readingWords(8, 2, "mm")).toMatch(/^6\.0 mm to the stop, 8\.0 mm to the finished face/);
	expect(readingWords(2.1, 2, "mm")).toMatch(/^At the stop/);
	expect(readingWords(1.2, 2, "mm")).toMatch(/^0\.8 mm past the stop, still 1\.2 mm/);
	expect(readingWords(0.1, 2, "mm")).toMatch(/^At the finished face/);
	expect(readingWords(-1.5, 2, "mm")).toMatch(/^Gone under the finished face by 1\.5 mm/);
});
