import { beforeAll, describe, expect, it } from "vitest";
import { type CutsAnswer, type CutsWanted, planCuts } from "../../../core/cuts/planCuts.ts";
import { USUAL_SAWS } from "../../../core/cuts/saws.ts";
import { finish } from "../../../core/job.ts";
import { stoneOf } from "../../../core/stone/block.ts";
import { convexHull } from "../../../core/stone/hull.ts";
import { buildSurfaceIndex, type SurfaceIndex } from "../../../core/surface/surfaceIndex.ts";
import { IDENTITY, unit, type Vec3 } from "../../../core/vector.ts";

/** A cube of 100 in the middle of a block of 200, wire sawn: 15 and half of 11 must stay, so faces at 50 − 20.5 from the skin. */
const corners = Float64Array.from(
	[0, 1, 2, 3, 4, 5, 6, 7].flatMap((i) => [i & 1 ? 100 : 0, i & 2 ? 100 : 0, i & 4 ? 100 : 0]),
);
const saw = USUAL_SAWS["wire saw"];
let index: SurfaceIndex;

function cut(own: CutsWanted["own"], count = 0, lieFaces = ["bed", "back"]): CutsAnswer {
	const hull = finish(convexHull(corners));
	return finish(
		planCuts({
			stone: stoneOf({ kind: "box", size: [200, 200, 200] }),
			hull,
			placement: { rotation: IDENTITY, translation: [50, 50, 50] },
			kept: [],
			lieFaces,
			index,
			density: [2000, 2500],
			wanted: { saw, count, stopCuts: 0, own },
		}),
	);
}

const own = (normal: Vec3, offset: number, skipped = false): CutsWanted["own"][number] => ({ normal, offset, skipped });

describe("cuts in order", () => {
	beforeAll(() => {
		const hull = finish(convexHull(corners));
		index = finish(buildSurfaceIndex({ positions: hull.vertices, triangles: hull.triangles }));
	});

	it("takes the carver's own first, of any length of normal, and counts what they take by hand", () => {
		const { cuts, barred, left, leftMass, waste } = cut([own([0, -2, 0], -2 * 29.5), own([0, 0, 5], 5 * 175)]);
		expect(barred).toEqual([]);
		expect(cuts.map(({ name, by, own: which }) => [name, by, which])).toEqual([
			["cut 1", "hand", 0],
			["cut 2", "hand", 1],
		]);
		// A slab of 29.5 off the front, then 25 off the top of what is left.
		expect(cuts[0].volume).toBeCloseTo(29.5 * 200 * 200, 3);
		expect(cuts[1].volume).toBeCloseTo(25 * 200 * 170.5, 3);
		expect(cuts[0].spare).toBeCloseTo(0, 9);
		expect(cuts[1].spare).toBeCloseTo(175 - 170.5, 9);
		expect(left.volume).toBeCloseTo(170.5 * 200 * 175, 3);
		expect(leftMass[0]).toBeCloseTo((170.5 * 200 * 175 * 2000) / 1e9, 9);
		expect(left.faces.map((face) => face.name)).toEqual(["left", "right", "back", "bed", "cut 1", "cut 2"]);
		expect(cuts[1].share).toBeCloseTo((29.5 * 200 * 200 + 25 * 200 * 170.5) / waste, 9);
	});

	it("leaves out what is too near, takes nothing, takes a face that the stone lies on, or is skipped", () => {
		const { cuts, barred } = cut([
			own([1, 0, 0], 170.4),
			own([1, 0, 0], 201),
			own([0, 1, 0], 175),
			own([0, 0, 1], 180, true),
			own([0, 0, 0], 5),
			own([1, 0, 0], 170.5),
		]);
		expect(barred.map(({ bar, own: which }) => [which, bar])).toEqual([
			[0, "too near"],
			[1, "misses"],
			[2, "takes the lie"],
			[3, "skipped"],
			[4, "misses"],
		]);
		expect(barred[0].spare).toBeCloseTo(-0.1, 9);
		expect(barred[0].nearest).toBe("the figure");
		expect(cuts.map((one) => one.name)).toEqual(["cut 1"]);
	});

	it("goes on with proposals that are unlike what was skipped, each freeing no more than the one before", () => {
		const skipped = unit([1, 1, 0]);
		const { cuts } = cut([own(skipped, 250, true), own([0, -1, 0], -29.5)], 4);
		expect(cuts.map((one) => one.by)).toEqual(["hand", "proposed", "proposed", "proposed", "proposed"]);
		for (const { plane } of cuts.slice(1)) {
			const cosine = plane.normal[0] * skipped[0] + plane.normal[1] * skipped[1] + plane.normal[2] * skipped[2];
			expect(cosine).toBeLessThan(0.967);
		}
		const freed = cuts.slice(1).map((one) => one.volume);
		for (let k = 1; k < freed.length; k++) expect(freed[k]).toBeLessThanOrEqual(freed[k - 1] * (1 + 1e-6));
		expect(cuts.every((one) => one.stands)).toBe(true);
	});

	it("gives the same bytes twice", () => {
		expect(JSON.stringify(cut([], 3).cuts)).toBe(JSON.stringify(cut([], 3).cuts));
	});
});
