import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { quaternionFromRotation, quaternionProduct, tidyQuaternion } from "../../../core/model/quaternion.ts";
import { areaCentroid, hullFaces, restingFaces, restingStance } from "../../../core/model/restingFaces.ts";
import { seededRandom } from "../../../core/random.ts";
import { convexHull } from "../../../core/stone/hull.ts";
import { dot, multiply, rotationFromQuaternion, turn, unit, type Vec3 } from "../../../core/vector.ts";
import { share } from "../../support/prove.ts";

const DEGREES = 180 / Math.PI;
const hullOf = (points: readonly Vec3[]) => finish(convexHull(Float64Array.from(points.flat())));
const box = (a: number, b: number, c: number): Vec3[] =>
	[0, 1, 2, 3, 4, 5, 6, 7].map((i) => [i & 1 ? a : 0, i & 2 ? b : 0, i & 4 ? c : 0]);
/** A pyramid over a regular polygon of `sides`, inradius r, height h, foot at z = 0. */
const pyramid = (sides: number, r: number, h: number): Vec3[] => [
	...Array.from({ length: sides }, (_, i): Vec3 => {
		const at = (2 * Math.PI * i) / sides;
		const corner = r / Math.cos(Math.PI / sides);
		return [corner * Math.cos(at), corner * Math.sin(at), 0];
	}),
	[0, 0, h],
];
const randomQuaternion = (random: ReturnType<typeof seededRandom>) =>
	[random.normal(), random.normal(), random.normal(), random.normal()] as const;

describe("resting faces", () => {
	it("of a box: six, each tipping at atan((b/2) / h) over its shorter side", () => {
		const faces = restingFaces(hullOf(box(300, 200, 100)), [150, 100, 50]);
		// Tipping angle of a block of base b with its centre h over it: atan((b/2) / h), elementary statics.
		const flat = Math.atan(100 / 50) * DEGREES;
		const edge = Math.atan(50 / 100) * DEGREES;
		const end = Math.atan(50 / 150) * DEGREES;
		expect(faces.map((f) => f.tips)).toEqual([flat, flat, edge, edge, end, end].map((t) => Math.round(t * 1e4) / 1e4));
		expect(faces.map((f) => Math.round(f.area))).toEqual([60000, 60000, 30000, 30000, 20000, 20000]);
		expect(faces[0].polygon).toHaveLength(4);
		expect(faces.every((f) => f.stable)).toBe(true);
	});

	it("of a regular tetrahedron: four alike, tan = inradius of a side ÷ (height ÷ 4) = √2", () => {
		const faces = restingFaces(
			hullOf([
				[1, 1, 1],
				[1, -1, -1],
				[-1, 1, -1],
				[-1, -1, 1],
			]),
			[0, 0, 0],
		);
		expect(faces).toHaveLength(4);
		for (const face of faces) expect(face.tips).toBeCloseTo(Math.atan(Math.SQRT2) * DEGREES, 3);
	});

	it("of a tall cone-like pyramid: its foot and, lying, its sides, in closed form", () => {
		const [r, h] = [50, 300];
		const all = hullFaces(hullOf(pyramid(8, r, h)), [0, 0, h / 4]);
		const foot = all.find((face) => face.normal[2] < -0.99);
		expect(foot?.margin).toBeCloseTo(r, 9);
		expect(foot?.height).toBeCloseTo(h / 4, 9);
		// A side meets the axis's centre at h/4: foot of the perpendicular lies (r² + h²/4) / √(r² + h²) up the slant.
		const side = all.find((face) => face.normal[2] > 0);
		const slant = Math.sqrt(r * r + h * h);
		expect(side?.height).toBeCloseTo((r * (h - h / 4)) / slant, 9);
		const fromFoot = (r * r + (h * h) / 4) / slant;
		const halfAngle = (r * Math.tan(Math.PI / 8)) / slant;
		const toEdge = ((slant - fromFoot) * halfAngle) / Math.sqrt(1 + halfAngle * halfAngle);
		expect(side?.margin).toBeCloseTo(Math.min(fromFoot, toEdge), 9);
		expect(restingFaces(hullOf(pyramid(8, r, h)), [0, 0, h / 4])[0].normal[2]).toBeLessThan(-0.99);
	});

	it("does not rest where its centre overhangs", () => {
		// A prism sheared so far that the centre stands outside its foot.
		const sheared = box(100, 100, 300).map(([x, y, z]): Vec3 => [x + z, y, z]);
		const foot = hullFaces(hullOf(sheared), [200, 50, 150]).find((face) => face.normal[2] < -0.99);
		expect(foot?.stable).toBe(false);
		expect(foot?.margin).toBeCloseTo(-100, 9);
		expect(restingFaces(hullOf(sheared), [200, 50, 150]).some((face) => face.normal[2] < -0.99)).toBe(false);
	});

	it("takes the noise of a scanned foot for one face, and a ball for none, seed 3", () => {
		const random = seededRandom(3);
		const foot: Vec3[] = Array.from({ length: 400 }, () => [
			200 * random.next(),
			200 * random.next(),
			0.05 * random.next(),
		]);
		const [first] = restingFaces(hullOf([...foot, ...box(200, 200, 300).slice(4)]), [100, 100, 100]);
		expect(first.normal[2]).toBeLessThan(-0.999);
		expect(first.tips).toBeGreaterThan(44);
		const ball: Vec3[] = Array.from({ length: 4000 }, () => unit([random.normal(), random.normal(), random.normal()]));
		expect(restingFaces(hullOf(ball), [0, 0, 0])).toEqual([]);
	});

	it("is the same however the figure is turned and scaled, seed 4", () => {
		const random = seededRandom(4);
		const points = pyramid(5, 40, 130).map(([x, y, z]): Vec3 => [x + 0.2 * z, y, z]);
		const centre: Vec3 = [0.2 * 32.5, 0, 32.5];
		const before = restingFaces(hullOf(points), centre);
		for (let i = 0; i < share(200); i++) {
			const r = rotationFromQuaternion(randomQuaternion(random));
			const s = 0.01 + 100 * random.next();
			const put = (p: Vec3): Vec3 => {
				const [x, y, z] = turn(r, p);
				return [s * x + 7, s * y - 3, s * z + 11];
			};
			const after = restingFaces(hullOf(points.map(put)), put(centre));
			expect(after).toHaveLength(before.length);
			after.forEach((face, k) => {
				expect(face.tips).toBeCloseTo(before[k].tips, 3);
				expect(face.area / (s * s * before[k].area)).toBeCloseTo(1, 9);
			});
		}
	});

	it("weighs an open shell by its area", () => {
		// Two squares of unequal size: the larger pulls.
		const positions = Float64Array.from([0, 0, 0, 2, 0, 0, 2, 2, 0, 0, 2, 0, 2, 0, 0, 2, 0, 1, 2, 1, 0]);
		const triangles = Uint32Array.from([0, 1, 2, 0, 2, 3, 4, 5, 6]);
		const [x, y, z] = finish(areaCentroid({ positions, triangles }));
		expect(x).toBeCloseTo((4 * 1 + 0.5 * 2) / 4.5, 12);
		expect(y).toBeCloseTo((4 * 1 + 0.5 / 3) / 4.5, 12);
		expect(z).toBeCloseTo(0.5 / 3 / 4.5, 12);
	});
});

describe("standing on a face", () => {
	it("leaves a figure that stands on it as it is, in whole numbers", () => {
		expect(restingStance([0, 0, -1], [0, 0, 0, 1], false)).toEqual([0, 0, 0, 1]);
		expect(restingStance([0, 0, -1], [1, 0, 0, 1], false)).toEqual([1, 0, 0, 1]);
		// On its face: the top comes towards the viewer.
		expect(restingStance([0, -1, 0], [0, 0, 0, 1], false)).toEqual([1, 0, 0, 1]);
		// Upside down about the viewer's line of sight, so that the front stays in front.
		expect(restingStance([0, 0, 1], [0, 0, 0, 1], false)).toEqual([0, 1, 0, 0]);
	});

	it("turns the face down and the front as near −y as any turn about the vertical does, mirrored or not, seed 6", () => {
		const random = seededRandom(6);
		for (let i = 0; i < share(1000); i++) {
			const stance = randomQuaternion(random);
			const normal = unit([random.normal(), random.normal(), random.normal()]);
			for (const mirrored of [false, true]) {
				const flip = (v: Vec3): Vec3 => (mirrored ? [-v[0], v[1], v[2]] : v);
				const from = rotationFromQuaternion(stance);
				const to = rotationFromQuaternion(restingStance(normal, stance, mirrored));
				// From the present model frame back to the scan and into the new one.
				const again = (v: Vec3): Vec3 => {
					const back = flip(v);
					const scan: Vec3 = [
						from[0] * back[0] + from[3] * back[1] + from[6] * back[2],
						from[1] * back[0] + from[4] * back[1] + from[7] * back[2],
						from[2] * back[0] + from[5] * back[1] + from[8] * back[2],
					];
					return flip(turn(to, scan));
				};
				const down = again(normal);
				expect(down[2]).toBeCloseTo(-1, 9);
				const front = again([0, -1, 0]);
				// The best a turn about the vertical can do: all of what is level looks to −y.
				expect(front[0]).toBeCloseTo(0, 9);
				expect(front[1]).toBeLessThanOrEqual(1e-9);
			}
		}
	});

	it("has quaternions that undo and compose rotations, seed 8", () => {
		const random = seededRandom(8);
		for (let i = 0; i < share(1000); i++) {
			const [p, q] = [randomQuaternion(random), randomQuaternion(random)];
			const r = multiply(rotationFromQuaternion(p), rotationFromQuaternion(q));
			const s = rotationFromQuaternion(tidyQuaternion(quaternionFromRotation(r)));
			const t = rotationFromQuaternion(quaternionProduct(p, q));
			for (let k = 0; k < 9; k++) {
				expect(s[k]).toBeCloseTo(r[k], 9);
				expect(t[k]).toBeCloseTo(r[k], 9);
			}
			expect(dot(turn(s, [1, 0, 0]), turn(s, [0, 1, 0]))).toBeCloseTo(0, 12);
		}
	});
});
