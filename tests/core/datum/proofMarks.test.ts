import { determinant, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { type MarkGround, proofMarkAt, suggestProofMarks, WANTED_MARKS } from "../../../core/datum/proofMarks.ts";
import type { DatumPlace } from "../../../core/datum/seat.ts";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import { stoneOf } from "../../../core/stone/block.ts";
import { buildSurfaceIndex } from "../../../core/surface/surfaceIndex.ts";
import { add, cross, distance, IDENTITY, place, scale, sub, type Vec3 } from "../../../core/vector.ts";
import { boxWithPlaces } from "./boxPlaces.ts";

/** A figure of 200 × 160 × 300 mm in a block with 50 mm around it. */
const { mesh, places } = boxWithPlaces([200, 160, 300]);
const ground: MarkGround = {
	index: finish(buildSurfaceIndex(mesh)),
	stone: stoneOf({ kind: "box", size: [300, 260, 400] }),
	placement: { rotation: IDENTITY, translation: [150, 130, 50] },
	closedFaces: new Set(["bed"]),
	entries: [
		[150, 0, 200],
		[120, 0, 300],
	],
};

describe("a proof mark", () => {
	it("is the line from the model to the nearest face that it looks to", () => {
		const at: DatumPlace = { position: [30, -80, 200], normal: [0, -1, 0] };
		const mark = proofMarkAt(at, ground)!;
		expect([mark.face.name, mark.u, mark.v, mark.waste]).toEqual(["front", 180, 250, 50]);
		expect(mark.fromHole).toBeCloseTo(distance([180, 0, 250], [150, 0, 200]), 12);
		expect(proofMarkAt({ position: [0, 0, 0], normal: [0, 0, -1] }, ground)).toBeNull();
	});

	it("is not given where the figure stands between the place and the skin", () => {
		const inside: DatumPlace = { position: [0, 0, 150], normal: [0, -1, 0] };
		expect(proofMarkAt(inside, ground)).toBeNull();
	});
});

describe("suggested proof marks", () => {
	const marks = finish(suggestProofMarks(places, ground));
	const seen = places.flatMap((at) => proofMarkAt(at, ground) ?? []);

	it("stand clear of every hole, among the half that stands longest", () => {
		expect(marks).toHaveLength(WANTED_MARKS);
		const far = seen.map((mark) => mark.fromHole).sort((a, b) => b - a);
		for (const mark of marks) expect(mark.fromHole).toBeGreaterThanOrEqual(far[Math.ceil(far.length / 2)] - 1e-9);
	});

	it("hold a motion better than 500 random choices of as many, seed 3", () => {
		const middle = scale(seen.map((m) => place(ground.placement, m.place.position)).reduce(add), 1 / seen.length);
		const row = (m: (typeof seen)[number]): number[] => {
			const target: Vec3 = place(ground.placement, m.place.position);
			return [...m.line, ...scale(cross(sub(target, middle), m.line), 1 / 150)];
		};
		const worth = (list: typeof seen): number => {
			const a = new Matrix(list.map(row));
			return determinant(a.transpose().mmul(a));
		};
		const far = seen.map((mark) => mark.fromHole).sort((a, b) => b - a);
		const long = seen.filter((mark) => mark.fromHole >= far[Math.ceil(far.length / 2)]);
		const random = seededRandom(3);
		let best = 0;
		for (let i = 0; i < 500; i++)
			best = Math.max(best, worth(Array.from({ length: WANTED_MARKS }, () => long[random.below(long.length)])));
		expect(worth([...marks])).toBeGreaterThan(0.95 * best);
	});
});
