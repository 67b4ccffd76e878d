import { describe, expect, it } from "vitest";
import { benchSheet, figuresNow } from "../../../core/bench/benchRows.ts";
import { goneUnder, readState, underList, underText } from "../../../core/bench/left.ts";
import type { LogEntry } from "../../../core/plan/commission.ts";
import { seededRandom } from "../../../core/random.ts";
import { readingWords } from "../../../core/text/benchWords.ts";
import { depthNumber, depthShown, LENGTH_UNITS, MM_PER, shortText } from "../../../core/text/format.ts";
import { handPlan } from "../../support/handPlan.ts";

const INCH = 25.4;

describe("what is left at the bench", () => {
	const { plan } = handPlan({ points: 90, seed: 4, units: "in" });
	const [first] = benchSheet(plan).rows;
	/** A hole of 4.5575 in, printed 4 1/2, whose stop is 2.5 mm from the face. */
	const row = { ...first, depth_mm: 4.5575 * INCH, stop_mm: 2.5 };
	const over = (depthRead: number): number => row.depth_mm + row.stop_mm - depthRead * INCH;
	const leads = (read: number | null) => figuresNow(row, read, "in16")[0];

	it("is what stands in the plan until the place is read, and then what the reading leaves", () => {
		expect(depthNumber(row.depth_mm, "in16").replace("\u00a0", " ")).toBe("4 1/2");
		expect(figuresNow(row, null, "in16")).toEqual(row.figures);
		expect(leads(over(4 + 7 / 16))).toEqual({ name: "to go", value: "0.12 in", main: true });
		expect(readingWords(over(4 + 7 / 16), row.stop_mm, "in16")).toMatch(/^0\.12 in to the stop/);
		// The printed depth itself is the stop, though it was rounded short.
		expect(leads(over(4.5)).value).toBe("nothing: at the stop");
		expect(readingWords(over(4.5), row.stop_mm, "in16")).toMatch(/^At the stop/);
		expect(leads(row.stop_mm - 1)).toMatchObject({ value: "nothing: past the stop", alarm: true });
		for (const read of [over(4.4), over(4.5), -2.54])
			expect(figuresNow(row, read, "in16").filter(({ name }) => name === "to go").length).toBe(read < 0 ? 0 : 1);
	});

	it("has nothing planned to go at a point that is done", () => {
		expect(row.figures.some(({ name }) => name === "to go")).toBe(true);
		expect(figuresNow(row, null, "in16", true).some(({ name }) => name === "to go")).toBe(false);
	});

	it("says in the colour of alarm that a hole has gone under, with one number everywhere", () => {
		expect(leads(-2.54)).toEqual({
			name: "gone under the finished face",
			value: "by 0.10 in",
			main: true,
			alarm: true,
		});
		const log: LogEntry[] = [
			{ kind: "reading", id: "r00000001", at: "2026-03-02T09:00:00", hand: "", point: 3, over_mm: -2.54 },
			{ kind: "reading", id: "r00000002", at: "2026-03-02T09:00:01", hand: "", point: 4, over_mm: -0.1 },
		];
		expect(underList(goneUnder(log), "in16")).toBe("3 (by 0.10 in)");
		expect(readingWords(-2.54, 2, "in16")).toContain(`by ${underText(-2.54, "in16")}.`);
	});

	it("is never more than what is really left, and nothing at every printed depth", () => {
		const random = seededRandom(17);
		for (let k = 0; k < 3000; k++) {
			const unit = LENGTH_UNITS[random.below(3)];
			const depth = 5 + 200 * random.next();
			const stop = 1 + 5 * random.next();
			expect(readState(depth + stop - depthShown(depth, unit), stop, unit)).toBe("at the stop");
			const left = 100 * random.next();
			const told = Number.parseFloat(shortText(left, unit === "mm" ? "mm" : "in")) * MM_PER[unit];
			expect(told).toBeLessThan(left + 1e-6);
			expect(left - told).toBeLessThan(unit === "mm" ? 0.1001 : 0.01001 * INCH);
		}
	});
});
