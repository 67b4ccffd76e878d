import { describe, expect, it } from "vitest";
import { rigidFit } from "../../../core/datum/rigidFit.ts";
import { seededRandom } from "../../../core/random.ts";
import { add, distance, type Placement, place, rotationFromQuaternion, type Vec3 } from "../../../core/vector.ts";
import { rigidBySvd } from "../../support/rigidBySvd.ts";

const random = seededRandom(21);
const spot = (size: number): Vec3 => [random.normal() * size, random.normal() * size, random.normal() * size];
const motion = (): Placement => ({
	rotation: rotationFromQuaternion([random.normal(), random.normal(), random.normal(), random.normal()]),
	translation: spot(500),
});

describe("the rigid fit", () => {
	it.each([3, 4, 12])("finds a known motion of %d places", (n) => {
		for (let trial = 0; trial < 50; trial++) {
			const from = Array.from({ length: n }, () => spot(200));
			const m = motion();
			const fit = rigidFit(
				from,
				from.map((p) => place(m, p)),
			);
			for (const left of fit.left) expect(left).toBeLessThan(1e-9);
			expect(distance(place(fit.placement, [300, -200, 100]), place(m, [300, -200, 100]))).toBeLessThan(1e-8);
		}
	});

	it.each([3, 5])("agrees with singular values where the %d places do not match", (n) => {
		for (let trial = 0; trial < 100; trial++) {
			const from = Array.from({ length: n }, () => spot(150));
			const m = motion();
			const to = from.map((p) => add(place(m, p), spot(trial % 2 === 0 ? 0.5 : 20)));
			const fit = rigidFit(from, to);
			const outside = rigidBySvd(from, to);
			const at = spot(200);
			expect(distance(place(fit.placement, at), outside.carry(at))).toBeLessThan(1e-7);
		}
	});

	it("turns and never mirrors, whatever it is given", () => {
		const from: Vec3[] = [
			[0, 0, 0],
			[100, 0, 0],
			[0, 100, 0],
			[0, 0, 100],
		];
		const mirrored = from.map(([x, y, z]): Vec3 => [-x, y, z]);
		const [a, b, c, d, e, f, g, h, i] = rigidFit(from, mirrored).placement.rotation;
		expect(a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)).toBeCloseTo(1, 12);
	});
});
