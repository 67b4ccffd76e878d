import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../core/random.ts";
import { type Box, type LabelWish, placeLabels } from "../../../core/sheet/labels.ts";
import { share } from "../../support/prove.ts";

const FRAME: Box = { x0: 0, y0: 0, x1: 170, y1: 220 };
const wish = (x: number, y: number, width = 8): LabelWish => ({ x, y, radius: 1.45, width, height: 4.8 });
const apart = (a: Box, b: Box): boolean => a.x1 <= b.x0 || b.x1 <= a.x0 || a.y1 <= b.y0 || b.y1 <= a.y0;

describe("numbers beside their marks", () => {
	it("one alone stands to the right of its mark, at its height, without a leader", () => {
		const [label] = placeLabels([wish(50, 50)], FRAME, []);
		expect(label?.leader).toBeNull();
		expect(label?.box.x0).toBeCloseTo(50 + 1.45 + 0.5, 9);
		expect(((label?.box.y0 ?? 0) + (label?.box.y1 ?? 0)) / 2).toBeCloseTo(50, 9);
	});

	it("one at the right edge turns to the left", () => {
		const [label] = placeLabels([wish(168, 50)], FRAME, []);
		expect(label?.box.x1).toBeLessThan(168);
	});

	it("nothing fits in a frame that is taken", () => {
		expect(placeLabels([wish(50, 50)], FRAME, [FRAME])).toEqual([null]);
	});

	it.each(Array.from({ length: share(60) }, (_, i) => i + 1))(
		"seed %i: clear of each other, of marks and of the edge",
		(seed) => {
			const random = seededRandom(seed);
			const wishes = Array.from({ length: 20 + random.below(60) }, () =>
				wish(20 + random.next() * 130, 20 + random.next() * 180, random.next() < 0.4 ? 7.6 : 11.2),
			);
			const labels = placeLabels(wishes, FRAME, []);
			expect(labels).not.toContain(null);
			labels.forEach((a, i) => {
				if (!a) return;
				expect(a.box.x0).toBeGreaterThanOrEqual(FRAME.x0);
				expect(a.box.y0).toBeGreaterThanOrEqual(FRAME.y0);
				expect(a.box.x1).toBeLessThanOrEqual(FRAME.x1);
				expect(a.box.y1).toBeLessThanOrEqual(FRAME.y1);
				labels.forEach((b, j) => {
					if (b && j > i) expect(apart(a.box, b.box)).toBe(true);
				});
				wishes.forEach((w, j) => {
					const mark = { x0: w.x - w.radius, y0: w.y - w.radius, x1: w.x + w.radius, y1: w.y + w.radius };
					if (j !== i) expect(apart(a.box, mark)).toBe(true);
				});
			});
			expect(placeLabels(wishes, FRAME, [])).toEqual(labels);
		},
	);
});
