import Module from "manifold-3d";
import { beforeAll, describe, expect, it } from "vitest";
import {
	type ConvexSolid,
	cutBy,
	measuresOf,
	type Plane,
	sectionOf,
	solidOf,
	volumeBeyond,
} from "../../../core/cuts/convexSolid.ts";
import { seededRandom } from "../../../core/random.ts";
import { stoneOf } from "../../../core/stone/block.ts";
import { dot, unit, type Vec3 } from "../../../core/vector.ts";
import { share } from "../../support/prove.ts";

const box = (x: number, y: number, z: number): ConvexSolid => solidOf(stoneOf({ kind: "box", size: [x, y, z] }));
const plane = (normal: Vec3, through: Vec3): Plane => {
	const n = unit(normal);
	return { normal: n, offset: dot(n, through) };
};

describe("a stone under the saw", () => {
	it("is counted by hand: corner, edge, slab, nothing, everything", () => {
		const block = box(300, 200, 100);
		expect(measuresOf(block)).toEqual({ volume: 6e6, centre: [150, 100, 50] });
		// A corner of three times 60 mm: 60³/6.
		const corner = plane([1, 1, 1], [240, 200, 100]);
		expect(volumeBeyond(block, corner)).toBeCloseTo(36000, 6);
		const without = cutBy(block, corner, "cut 1") as ConvexSolid;
		expect(measuresOf(without).volume).toBeCloseTo(6e6 - 36000, 6);
		expect(without.names).toEqual(["left", "right", "front", "back", "bed", "top", "cut 1"]);
		expect(without.corners.length).toBe(30);
		expect(sectionOf(block, corner)).toHaveLength(3);
		// An edge of 40 by 30 over the whole length: 300 · 40 · 30 / 2.
		const edge = plane([0, 3, 4], [0, 160, 100]);
		expect(volumeBeyond(block, edge)).toBeCloseTo(180000, 6);
		// A slab of 10, and the face under it.
		const slab = plane([0, 0, 1], [0, 0, 90]);
		expect(volumeBeyond(block, slab)).toBeCloseTo(600000, 6);
		expect((cutBy(block, slab, "cut 1") as ConvexSolid).names).toEqual([
			"left",
			"right",
			"front",
			"back",
			"bed",
			"cut 1",
		]);
		// Touching a face, an edge and a corner takes nothing; a plane under the bed leaves nothing.
		for (const touching of [
			plane([0, 0, 1], [0, 0, 100]),
			plane([0, 1, 1], [0, 200, 100]),
			plane([1, 1, 1], [300, 200, 100]),
		]) {
			expect(cutBy(block, touching, "")).toBe(block);
			expect(volumeBeyond(block, touching)).toBeCloseTo(0, 6);
		}
		expect(cutBy(block, plane([0, 0, 1], [0, 0, 0]), "")).toBe(null);
		expect(volumeBeyond(block, plane([0, 0, 1], [0, 0, -5]))).toBeCloseTo(6e6, 5);
		// Through two opposite edges: a prism of half the block.
		const half = cutBy(block, plane([2, 3, 0], [300, 0, 0]), "cut 1") as ConvexSolid;
		expect(measuresOf(half).volume).toBeCloseTo(3e6, 5);
		expect(half.names).toEqual(["left", "front", "bed", "top", "cut 1"]);
	});

	let solid: Awaited<ReturnType<typeof Module>>;
	beforeAll(async () => {
		solid = await Module();
		solid.setup();
	});

	it("has the volumes of a general solid library to 1e-6 after every one of many cuts", () => {
		const random = seededRandom(511);
		let worst = 0;
		for (let trial = 0; trial < share(300); trial++) {
			const size: Vec3 = [100 + 900 * random.next(), 100 + 900 * random.next(), 100 + 900 * random.next()];
			let ours = box(...size);
			let theirs = solid.Manifold.cube([...size]);
			for (let k = 0; k < 10; k++) {
				const normal = unit([random.normal(), random.normal(), random.normal()]);
				const { volume, centre } = measuresOf(ours);
				const reach = Math.max(
					...Array.from({ length: ours.corners.length / 3 }, (_, i) =>
						dot(normal, [ours.corners[3 * i], ours.corners[3 * i + 1], ours.corners[3 * i + 2]]),
					),
				);
				const middle = dot(normal, centre);
				const cut = { normal, offset: middle + (0.3 + 0.6 * random.next()) * (reach - middle) };
				const [off, kept] = theirs.splitByPlane([...normal], cut.offset);
				const beyond = volumeBeyond(ours, cut);
				ours = cutBy(ours, cut, `cut ${k + 1}`) as ConvexSolid;
				theirs = kept;
				const now = measuresOf(ours).volume;
				worst = Math.max(
					worst,
					Math.abs(beyond - off.volume()) / off.volume(),
					Math.abs(now - kept.volume()) / kept.volume(),
					Math.abs(beyond + now - volume) / volume,
				);
			}
		}
		expect(worst).toBeLessThan(1e-6);
	});

	it("turns with the stone", () => {
		// The same body as planes in a turned frame (a third of a turn about the diagonal swaps the axes).
		const planes = (sides: Vec3): Float64Array =>
			Float64Array.from([
				-1,
				0,
				0,
				0,
				1,
				0,
				0,
				sides[0],
				0,
				-1,
				0,
				0,
				0,
				1,
				0,
				sides[1],
				0,
				0,
				-1,
				0,
				0,
				0,
				1,
				sides[2],
			]);
		const one = solidOf(stoneOf({ kind: "planes", planes: planes([310, 220, 130]) }));
		const other = solidOf(stoneOf({ kind: "planes", planes: planes([130, 310, 220]) }));
		const a = plane([1, 2, 3], [250, 200, 120]);
		const b = plane([3, 1, 2], [120, 250, 200]);
		expect(volumeBeyond(one, a)).toBeCloseTo(volumeBeyond(other, b), 5);
		const centre = measuresOf(cutBy(one, a, "") as ConvexSolid).centre;
		const turned = measuresOf(cutBy(other, b, "") as ConvexSolid).centre;
		for (let k = 0; k < 3; k++) expect(turned[(k + 1) % 3]).toBeCloseTo(centre[k], 9);
	});
});
