import { describe, expect, it } from "vitest";
import { daysOfLog, supportOf } from "../../../core/finish/daysOfLog.ts";
import { quickQuantities, quickQuote } from "../../../core/finish/quickQuote.ts";
import { type Quantities, quoteOf } from "../../../core/finish/quote.ts";
import { QUICK, QUICK_KEYS, type QuickShape, RATE_KEYS, RATES, type Rates } from "../../../core/finish/rates.ts";
import { refitRates, type WorkedDay } from "../../../core/finish/refitRates.ts";
import { seededRandom } from "../../../core/random.ts";
import { Refusal } from "../../../core/refusal.ts";
import { handPlan } from "../../support/handPlan.ts";

const GUESSED_RATES = Object.fromEntries(RATE_KEYS.map((key) => [key, RATES[key].guess])) as Rates;
const GUESSED_SHAPE = Object.fromEntries(QUICK_KEYS.map((key) => [key, QUICK[key].guess])) as QuickShape;

const WORK: Quantities = {
	block_dm3: 30,
	block_kg: [78, 84],
	sawn_dm3: 9,
	hollow_dm3: 6,
	points: 160,
	drilled_m: 7,
	joined_dm2: 90,
	graded_dm2: 100,
	detailed_dm2: 25,
	gilded_dm2: 2,
	leaves: 40,
	fixed: 1,
	bar_m: 0.25,
	resin_l: 0.03,
	base_dm3: 2,
	sent_kg: [40, 44],
};

describe("a quote", () => {
	it("is the sum of its lines, by hand", () => {
		const rates = {
			...Object.fromEntries(RATE_KEYS.map((key) => [key, 0])),
			dayHours: 8,
			sheetArea: 1,
		} as unknown as Rates;
		const quote = quoteOf(
			WORK,
			{
				...rates,
				pointHours: 0.1,
				drillHours: 1,
				hourPrice: 50,
				overhead: 0.2,
				stonePrice: 2000,
				stoneWaste: 0.1,
				contingency: 0.1,
				tax: 0.2,
				hoursLow: 0.5,
				hoursHigh: 2,
				priceLow: 1,
				priceHigh: 1.5,
			},
			"volume",
		);
		// 160 · 0.1 + 7 · 1 = 23 h; half and double of it; 23 · 50 · 1.2 = 1380; stone 0.03 m³ · 1.1 · 2000 = 66, dear 99.
		expect(quote.hoursInAll).toEqual([11.5, 23, 46]);
		expect(quote.days[1]).toBeCloseTo(23 / 8, 12);
		expect(quote.stages.find(({ stage }) => stage === "points")?.hours).toBe(23);
		const net = [690 + 66, 1380 + 66, 2760 + 99];
		for (let i = 0; i < 3; i++) {
			expect(quote.contingency[i]).toBeCloseTo(net[i] * 0.1, 9);
			expect(quote.total[i]).toBeCloseTo(net[i] * 1.1 * 1.2, 9);
		}
	});

	it("by weight takes the stone's range of density", () => {
		const stone = quoteOf(WORK, GUESSED_RATES, "weight").lines.find(({ words }) => words === "stone");
		const r = GUESSED_RATES;
		expect(stone?.money[0]).toBeCloseTo(0.078 * (1 + r.stoneWaste) * r.stonePrice * r.priceLow, 9);
		expect(stone?.money[1]).toBeCloseTo(0.081 * (1 + r.stoneWaste) * r.stonePrice, 9);
		expect(stone?.money[2]).toBeCloseTo(0.084 * (1 + r.stoneWaste) * r.stonePrice * r.priceHigh, 9);
	});

	it.each(["volume", "weight"] as const)("changes when any rate changes, stone by %s", (by) => {
		const before = JSON.stringify(quoteOf(WORK, GUESSED_RATES, by));
		for (const key of RATE_KEYS) {
			const other = { ...GUESSED_RATES, [key]: GUESSED_RATES[key] * 1.4 + 0.01 };
			expect(JSON.stringify(quoteOf(WORK, other, by)), key).not.toBe(before);
		}
	});

	it("rests on named rates alone: with all of them nought it is nought, and doubling money or hours doubles it", () => {
		const of = (change: (key: string, value: number) => number) =>
			quoteOf(
				WORK,
				Object.fromEntries(RATE_KEYS.map((key) => [key, change(key, GUESSED_RATES[key])])) as unknown as Rates,
				"volume",
			);
		const isMoney = (key: string): boolean => RATES[key as keyof typeof RATES].unit.startsWith("money");
		const isHours = (key: string): boolean => key.endsWith("Hours") && key !== "dayHours";
		expect(of((key, value) => (isMoney(key) ? 0 : value)).total).toEqual([0, 0, 0]);
		expect(of((key, value) => (isHours(key) ? 0 : value)).hoursInAll).toEqual([0, 0, 0]);
		const once = of((_, value) => value);
		const twice = of((key, value) => (isMoney(key) ? 2 * value : value));
		for (let i = 0; i < 3; i++) expect(twice.total[i]).toBeCloseTo(2 * once.total[i], 6);
		expect(of((key, value) => (isHours(key) ? 2 * value : value)).hoursInAll[1]).toBeCloseTo(2 * once.hoursInAll[1], 9);
	});

	it("never has its low end over its likely, nor that over its high end", () => {
		const { total, hoursInAll, days, lines } = quoteOf(WORK, GUESSED_RATES, "weight");
		for (const [low, likely, high] of [total, hoursInAll, days, ...lines.map(({ money }) => money)]) {
			expect(low).toBeLessThanOrEqual(likely);
			expect(likely).toBeLessThanOrEqual(high);
		}
		// Every amount has its line, and every line names its rates.
		for (const line of lines) expect(line.rates.length, line.words).toBeGreaterThan(0);
	});
});

describe("a quick quote", () => {
	const wishes = { height: 400, stone: "marble", detail: "usual" } as const;

	it("counts a box of the assumed sides", () => {
		const q = quickQuantities(wishes, GUESSED_SHAPE);
		// Figure 220 × 200 × 400, with 25 mm all round 270 × 250 × 450.
		expect(q.block_dm3).toBeCloseTo(2.7 * 2.5 * 4.5, 9);
		const area = 2 * (2.2 * 2 + 2 * 4 + 4 * 2.2);
		expect(q.points).toBe(Math.round(area * 3));
		expect(q.graded_dm2 + q.detailed_dm2).toBeCloseTo(area * 4, 9);
		expect(q.sawn_dm3 + q.hollow_dm3 + 2.2 * 2 * 4 * 0.4).toBeCloseTo(q.block_dm3, 9);
		expect(q.block_kg[0]).toBeCloseTo(q.block_dm3 * 2.6, 9);
	});

	it("changes with every assumption that its detail uses, and with height, stone and detail", () => {
		const of = (change: Partial<typeof wishes> = {}, shape = GUESSED_SHAPE) =>
			JSON.stringify(quickQuote({ ...wishes, ...change } as typeof wishes, shape, GUESSED_RATES, "weight"));
		for (const detail of ["plain", "usual", "fine"] as const) {
			const before = of({ detail } as never);
			for (const key of QUICK_KEYS) {
				const other =
					["Plain", "Usual", "Fine"].some((word) => key.endsWith(word)) && !key.toLowerCase().endsWith(detail);
				const shape = { ...GUESSED_SHAPE, [key]: GUESSED_SHAPE[key] * 1.3 + 0.01 };
				if (other) expect(of({ detail } as never, shape), key).toBe(before);
				else expect(of({ detail } as never, shape), `${key}, ${detail}`).not.toBe(before);
			}
		}
		expect(of({ height: 500 } as never)).not.toBe(of());
		expect(of({ stone: "soapstone" } as never)).not.toBe(of());
	});

	it("rises with height and detail", () => {
		const total = (height: number, detail: "plain" | "usual" | "fine") =>
			quickQuote({ height, stone: "marble", detail }, GUESSED_SHAPE, GUESSED_RATES, "volume").total[1];
		expect(total(300, "usual")).toBeLessThan(total(600, "usual"));
		expect(total(400, "plain")).toBeLessThan(total(400, "usual"));
		expect(total(400, "usual")).toBeLessThan(total(400, "fine"));
	});

	it("is refused without a height or with a stone that has no density", () => {
		for (const height of [0, -1, Number.NaN, 30_000])
			expect(() => quickQuantities({ ...wishes, height }, GUESSED_SHAPE)).toThrow(Refusal);
		expect(() => quickQuantities({ ...wishes, stone: "cheese" }, GUESSED_SHAPE)).toThrow(Refusal);
	});

	it("calls every default a guess by giving it a name, a unit and bounds", () => {
		for (const [key, one] of Object.entries({ ...RATES, ...QUICK })) {
			expect(one.words.length, key).toBeGreaterThan(3);
			expect(one.guess, key).toBeGreaterThanOrEqual(one.least);
			expect(one.guess, key).toBeLessThanOrEqual(one.most);
		}
	});
});

describe("rates from the log", () => {
	it("with one amount are all hours by all of it", () => {
		const days: WorkedDay[] = [
			{ day: "2031-03-01", stage: "between points", hours: 4, amounts: [10] },
			{ day: "2031-03-02", stage: "between points", hours: 6, amounts: [15] },
			{ day: "2031-03-02", stage: "between points", hours: 2, amounts: [15] },
		];
		expect(refitRates(days, GUESSED_RATES)).toEqual([{ rate: "joinHours", value: 0.3, days: 2, together: false }]);
	});

	it("with two amounts find both again, with noise nearly", () => {
		const random = seededRandom(11);
		const of = (noise: number): WorkedDay[] =>
			Array.from({ length: 30 }, (_, i) => {
				const [points, metres] = [20 + 20 * random.next(), 0.5 + 2 * random.next()];
				const hours = 0.12 * points + 0.8 * metres + noise * random.normal();
				return { day: `2031-03-${i + 1}`, stage: "points", hours, amounts: [points, metres] };
			});
		const [hole, drilling] = refitRates(of(0), GUESSED_RATES);
		expect(hole).toMatchObject({ rate: "pointHours", days: 30 });
		expect(hole.value).toBeCloseTo(0.12, 9);
		expect(drilling.value).toBeCloseTo(0.8, 9);
		const noisy = refitRates(of(0.3), GUESSED_RATES);
		expect(Math.abs(noisy[0].value - 0.12)).toBeLessThan(0.02);
		expect(Math.abs(noisy[1].value - 0.8)).toBeLessThan(0.4);
	});

	it("go together where the days do not tell two rates apart, and none falls under nought", () => {
		const [points, metres] = refitRates(
			[
				{
					day: "d",
					stage: "points",
					hours: 2 * (10 * GUESSED_RATES.pointHours + GUESSED_RATES.drillHours),
					amounts: [10, 1],
				},
			],
			GUESSED_RATES,
		);
		expect(points).toEqual({ rate: "pointHours", value: 2 * GUESSED_RATES.pointHours, days: 1, together: true });
		expect(metres.value).toBeCloseTo(2 * GUESSED_RATES.drillHours, 12);
		const bent = refitRates(
			[
				{ day: "a", stage: "points", hours: 4, amounts: [10, 0.1] },
				{ day: "b", stage: "points", hours: 2, amounts: [10, 3] },
			],
			GUESSED_RATES,
		);
		expect(bent.every(({ value }) => value >= 0)).toBe(true);
		expect(refitRates([], GUESSED_RATES)).toEqual([]);
	});

	it("reads the points of the log by day, without those taken back or never timed", () => {
		const { plan } = handPlan();
		const [a, b, c] = plan.points.filter(({ depth_mm }) => depth_mm !== null);
		const done = (id: string, at: string, point: number, seconds: number | null) =>
			({ kind: "done", id, at, hand: "", point, seconds }) as const;
		const days = daysOfLog(
			[
				done("aaaaaaaa", "2031-03-01T09:00:00", a.number, 600),
				done("bbbbbbbb", "2031-03-01T10:00:00", b.number, 1200),
				done("cccccccc", "2031-03-02T09:00:00", c.number, 900),
				done("dddddddd", "2031-03-02T10:00:00", c.number, null),
				done("eeeeeeee", "2031-03-02T11:00:00", a.number, 5000),
				{ kind: "taken back", id: "ffffffff", at: "2031-03-02T11:01:00", hand: "", of: "eeeeeeee" },
			],
			plan,
		);
		const metres = (...points: (typeof a)[]): number => points.reduce((sum, p) => sum + (p.depth_mm ?? 0), 0) / 1000;
		expect(days).toEqual([
			{ day: "2031-03-01", stage: "points", hours: 0.5, amounts: [2, expect.closeTo(metres(a, b), 9)] },
			{ day: "2031-03-02", stage: "points", hours: 0.25, amounts: [1, expect.closeTo(metres(c), 9)] },
		]);
		expect(refitRates(days, GUESSED_RATES).every(({ days: n }) => n === 2)).toBe(true);
	});

	it("are carried by three days and a day's worth of points, not by one sitting", () => {
		const day = (name: string, points: number): WorkedDay => ({
			day: name,
			stage: "points",
			hours: points / 6,
			amounts: [points, points / 20],
		});
		expect(supportOf([day("a", 2)])).toMatchObject({ days: 1, points: 2, enough: false });
		expect(supportOf([day("a", 200)]).enough).toBe(false);
		expect(supportOf([day("a", 2), day("b", 2), day("c", 2)]).enough).toBe(false);
		expect(supportOf([day("a", 10), day("b", 10), day("c", 10)])).toMatchObject({ days: 3, points: 30, enough: true });
		expect(supportOf([]).enough).toBe(false);
	});
});
