import { describe, expect, it } from "vitest";
import { sideOfDatums } from "../../../core/datum/callipers.ts";
import type { Triangle } from "../../../core/datum/seatError.ts";
import { underEdge } from "../../../core/datum/straightedge.ts";
import { seededRandom } from "../../../core/random.ts";
import { type Placement, place, rotationFromQuaternion, turn, type Vec3 } from "../../../core/vector.ts";

/** Margins of a relief that faces −y, its frame 10 mm proud of nothing. */
const margins: Triangle = [
	[-150, 0, 10],
	[150, 0, 10],
	[-150, 0, 390],
];
const FRONT: Vec3 = [0, -1, 0];

describe("a place under the straightedge", () => {
	it("by hand: 190 along, 140 across, 25 below", () => {
		const { along, across, below } = underEdge(margins, FRONT, [40, 25, 150]);
		expect([along, across, below].map((mm) => Math.round(mm * 1e9) / 1e9)).toEqual([190, 140, 25]);
		// A boss that stands over the edge.
		expect(underEdge(margins, FRONT, [0, -4, 200]).below).toBeCloseTo(-4, 12);
	});

	it("does not depend on which way round A, B and C run, nor on how the relief lies", () => {
		const random = seededRandom(4);
		for (let i = 0; i < 100; i++) {
			const p: Placement = {
				rotation: rotationFromQuaternion([random.normal(), random.normal(), random.normal(), random.normal()]),
				translation: [random.normal() * 300, random.normal() * 300, random.normal() * 300],
			};
			const at: Vec3 = [random.normal() * 100, random.normal() * 30, random.normal() * 100];
			const [a, b, c] = margins;
			const before = underEdge(margins, FRONT, at);
			const turned = underEdge([place(p, a), place(p, b), place(p, c)], turn(p.rotation, FRONT), place(p, at));
			expect(turned.along).toBeCloseTo(before.along, 9);
			expect(turned.across).toBeCloseTo(before.across, 9);
			expect(turned.below).toBeCloseTo(before.below, 9);
			expect(underEdge([a, c, b], FRONT, at).below).toBeCloseTo(before.below, 9);
		}
	});
});

describe("the side of three datums", () => {
	it("is told by the face of the block that it looks to", () => {
		expect(sideOfDatums(margins, [0, -50, 200])).toBe("front");
		expect(sideOfDatums(margins, [0, 50, 200])).toBe("back");
		const level: Triangle = [
			[0, 0, 100],
			[100, 10, 110],
			[0, 100, 95],
		];
		expect(sideOfDatums(level, [20, 20, 300])).toBe("top");
		expect(sideOfDatums(level, [20, 20, 0])).toBe("bed");
		const upright: Triangle = [
			[0, 0, 0],
			[0, 100, 0],
			[0, 0, 100],
		];
		expect(sideOfDatums(upright, [30, 10, 10])).toBe("right");
		expect(sideOfDatums(upright, [-30, 10, 10])).toBe("left");
	});
});
