/** How the carver stands a scan up and mirrors it: turns, three places, pairs. */

import { describe, expect, it } from "vitest";
import { modelFrame } from "../../core/model/modelFrame.ts";
import { restingStance } from "../../core/model/restingFaces.ts";
import { type Commission, newCommission } from "../../core/plan/commission.ts";
import { rotationFromQuaternion, turn, type Vec3 } from "../../core/vector.ts";
import { mirroredOver, twinOf } from "../../renderer/state/mirror.ts";
import { outwardOf, turnedStance } from "../../renderer/state/stance.ts";
import { eggMesh } from "./egg.ts";

const upright = [0, 0, 0, 1] as const;
const near = (v: readonly number[]) => v.map((x) => expect.closeTo(x, 9));

describe("turns by an angle", () => {
	it("are those of sine and cosine", () => {
		for (const degrees of [0.5, 12.5, 45, 90, 133, 180]) {
			const [s, c] = [Math.sin((degrees * Math.PI) / 180), Math.cos((degrees * Math.PI) / 180)];
			const top = (way: "forward" | "right") =>
				turn(rotationFromQuaternion(turnedStance(upright, way, degrees, false)), [0, 0, 1]);
			expect(top("forward")).toEqual(near([0, -s, c]));
			expect(top("right")).toEqual(near([s, 0, c]));
			const round = rotationFromQuaternion(turnedStance(upright, "round", degrees, false));
			expect(turn(round, [1, 0, 0])).toEqual(near([c, s, 0]));
		}
	});

	it("go the way they say on a mirrored model too", () => {
		const mesh = eggMesh(9);
		const start = [0.2, 0.1, -0.3, 0.9] as const;
		const stand = (quaternion: Commission["model"]["stance"]) =>
			modelFrame(mesh, [0, 0, 0], { mmPerUnit: 1, mirrored: true, quaternion }).mesh.positions;
		const before = stand([...start]);
		const after = stand(turnedStance(start, "right", 30, true));
		const [s, c] = [Math.sin(Math.PI / 6), Math.cos(Math.PI / 6)];
		for (let i = 3; i < 300; i += 3) {
			const way = (p: Float64Array): number[] => [0, 1, 2].map((k) => p[i + k] - p[k]);
			const [x, y, z] = way(before);
			expect(way(after)).toEqual(near([c * x + s * z, y, c * z - s * x]));
		}
	});
});

describe("three places to stand on", () => {
	const place = (position: Vec3, normal: Vec3) => ({ position, normal });

	it("face the way their surface does, whichever way round they were picked", () => {
		const down: Vec3 = [0, 0, -1];
		const corners: Vec3[] = [
			[0, 0, 0],
			[10, 0, 0],
			[0, 10, 0],
		];
		for (const order of [
			[0, 1, 2],
			[2, 1, 0],
		]) {
			const normal = outwardOf(order.map((i) => place(corners[i], down)));
			expect(normal?.map((x) => Math.sign(x) + 0)).toEqual([0, 0, -1]);
		}
	});

	it("come to lie in the foot's plane", () => {
		const corners: Vec3[] = [
			[3, 1, 50],
			[20, -7, 52],
			[9, 16, 61],
		];
		const normal = outwardOf(corners.map((at) => place(at, [0.1, 0, 1]))) as Vec3;
		const stance = rotationFromQuaternion(restingStance(normal, [0, 0, 0, 1], false));
		const heights = corners.map((at) => turn(stance, at)[2]);
		expect(heights).toEqual(near([heights[0], heights[0], heights[0]]));
		// What the surface looked to is now below.
		expect(turn(stance, normal)[2]).toBeLessThan(0);
	});

	it("make no plane when they lie in a line", () => {
		const up: Vec3 = [0, 0, 1];
		expect(outwardOf([place([0, 0, 0], up), place([10, 0, 0], up), place([20, 0.3, 0], up)])).toBeNull();
	});
});

describe("mirroring", () => {
	const mesh = eggMesh(9);
	const at = (v: number, mirrored: boolean): [number, number, number] => {
		const { positions } = modelFrame(mesh, [0, 0, 0], { mmPerUnit: 1, mirrored, quaternion: [0.3, 0, 0.1, 1] }).mesh;
		return [positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]];
	};
	const on = (v: number) => ({ position_mm: at(v, false), normal: [0.6, 0, 0.8] as [number, number, number] });
	const plain = newCommission("egg.stl");
	const c: Commission = {
		...plain,
		name: "Lion",
		datumSets: [{ name: "front", datums: [on(1), on(20), on(40)], link: null, measured_mm: null }],
		picks: [on(7)],
		model: { ...plain.model, castPairs: [{ a_mm: at(3, false), b_mm: at(30, false), read_mm: 50 }] },
	};

	it("takes along what was picked on the surface", () => {
		const m = mirroredOver(c, true);
		expect(m.scan.mirrored).toBe(true);
		expect(m.picks[0].position_mm).toEqual(near(at(7, true)));
		expect(m.picks[0].normal).toEqual([-0.6, 0, 0.8]);
		expect(m.datumSets[0].datums[2].position_mm).toEqual(near(at(40, true)));
		expect(m.model.castPairs[0].b_mm).toEqual(near(at(30, true)));
		expect(mirroredOver(m, false)).toEqual(c);
		expect(mirroredOver(c, false)).toBe(c);
	});

	it("makes the other one of a pair, under a name of its own, and back again", () => {
		const twin = twinOf(c);
		expect([twin.name, twin.scan.mirrored]).toEqual(["Lion, mirrored", true]);
		expect(twinOf(twin)).toEqual(c);
		expect(twinOf({ ...c, name: "x".repeat(120) }).name).toHaveLength(120);
	});
});
