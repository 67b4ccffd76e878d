import { expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { convexHull } from "../../../core/stone/hull.ts";
import { otherWayUp } from "../../../core/stone/otherWayUp.ts";

/** Corners of a box, mm. */
const box = (x: number, y: number, z: number) =>
	finish(
		convexHull(Float64Array.from({ length: 24 }, (_, i) => [x, y, z][i % 3] * ((Math.floor(i / 3) >> (i % 3)) & 1))),
	);

it("finds the side that has to be up, and what is then to spare", () => {
	const way = finish(otherWayUp(box(280, 120, 200), [300, 220, 140], { turning: { kind: "upright" } }));
	expect(way?.sides[2]).toBe(220);
	// 300 − 280, 140 − 120 and 220 − 200 leave 10 on every side.
	expect(way?.spare).toBeCloseTo(10, 6);
});

it("has no answer where no side helps", () => {
	expect(finish(otherWayUp(box(280, 260, 200), [300, 220, 140], { turning: { kind: "upright" } }))).toBeNull();
});
