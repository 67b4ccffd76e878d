import { describe, expect, it } from "vitest";
import { modelFrame } from "../../../core/model/modelFrame.ts";
import { seededRandom } from "../../../core/random.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import type { Vec3 } from "../../../core/vector.ts";

/** A corner of three unequal edges, in scan units, recentred by `origin`. */
const corner = (origin: Vec3): TriangleMesh => ({
	positions: Float64Array.from([0, 0, 0, 1, 0, 0, 0, 2, 0, 0, 0, 3].map((v, i) => v - origin[i % 3])),
	triangles: Uint32Array.from([0, 2, 1, 0, 1, 3, 0, 3, 2, 1, 2, 3]),
});
const volume = ({ positions: p, triangles: t }: TriangleMesh): number => {
	let six = 0;
	for (let i = 0; i < t.length; i += 3) {
		const [a, b, c] = [3 * t[i], 3 * t[i + 1], 3 * t[i + 2]];
		six +=
			p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1]) +
			p[a + 1] * (p[b + 2] * p[c] - p[b] * p[c + 2]) +
			p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c]);
	}
	return six / 6;
};
const apply = (m: readonly number[], v: readonly number[]): number[] =>
	[0, 1, 2].map((k) => m[4 * k] * v[0] + m[4 * k + 1] * v[1] + m[4 * k + 2] * v[2] + m[4 * k + 3]);

describe("model frame", () => {
	it("stands the model on z = 0 about the middle, in millimetres", () => {
		const frame = modelFrame(corner([0, 0, 0]), [0, 0, 0], {
			mmPerUnit: 10,
			mirrored: false,
			quaternion: [0, 0, 0, 1],
		});
		expect(frame.min).toEqual([-5, -10, 0]);
		expect(frame.max).toEqual([5, 10, 30]);
		expect(volume(frame.mesh)).toBeCloseTo(1000, 9);
	});

	it("turns y up to z up: a quarter about x", () => {
		const h = Math.SQRT1_2;
		const frame = modelFrame(corner([0, 0, 0]), [0, 0, 0], { mmPerUnit: 1, mirrored: false, quaternion: [h, 0, 0, h] });
		expect(frame.max[2]).toBeCloseTo(2, 12);
	});

	it("mirrors left for right and keeps the faces outward", () => {
		const frame = modelFrame(corner([0, 0, 0]), [0, 0, 0], { mmPerUnit: 1, mirrored: true, quaternion: [0, 0, 0, 1] });
		expect(volume(frame.mesh)).toBeCloseTo(1, 9);
		expect(frame.mesh.positions[3]).toBeCloseTo(-0.5, 12);
	});

	it("has a matrix that maps the file's own numbers, far from the origin too, seed 5", () => {
		const random = seededRandom(5);
		for (let i = 0; i < 50; i++) {
			const origin: Vec3 = [random.normal() * 1e5, random.normal() * 1e5, random.normal() * 1e5];
			const frame = modelFrame(corner(origin), origin, {
				mmPerUnit: 25.4,
				mirrored: i % 2 === 1,
				quaternion: [random.normal(), random.normal(), random.normal(), random.normal()],
			});
			const file = [0, 0, 0, 1, 0, 0, 0, 2, 0, 0, 0, 3];
			for (let v = 0; v < 4; v++)
				apply(frame.toModel, file.slice(3 * v, 3 * v + 3)).forEach((value, k) => {
					expect(value).toBeCloseTo(frame.mesh.positions[3 * v + k], 5);
				});
		}
	});
});
