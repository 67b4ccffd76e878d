import { describe, expect, it } from "vitest";
import { seededRandom } from "../../core/random.ts";
import { vertexNormals } from "../../core/surface/vertexNormals.ts";
import { cross, dot, length, scale, sub, unit, type Vec3 } from "../../core/vector.ts";
import { createPicker } from "../../renderer/banker/picker.ts";
import { displayMesh } from "../../renderer/jobs/displayMesh.ts";
import { share } from "../support/prove.ts";
import { eggMesh } from "./egg.ts";

const mesh = eggMesh(14);
const shown = displayMesh(mesh, vertexNormals(mesh));
const picker = createPicker(shown);
const corner = (v: number): Vec3 => [shown.positions[3 * v], shown.positions[3 * v + 1], shown.positions[3 * v + 2]];
const triangles: [Vec3, Vec3, Vec3][] = [];
for (let i = 0; i < shown.triangles.length; i += 3)
	triangles.push([corner(shown.triangles[i]), corner(shown.triangles[i + 1]), corner(shown.triangles[i + 2])]);

/** The obvious way: every triangle in turn (Möller and Trumbore 1997). Distance, or Infinity. */
function slowCast(origin: Vec3, direction: Vec3): number {
	let best = Number.POSITIVE_INFINITY;
	for (const [a, b, c] of triangles) {
		const e1 = sub(b, a);
		const e2 = sub(c, a);
		const p = cross(direction, e2);
		const det = dot(e1, p);
		if (Math.abs(det) < 1e-12) continue;
		const s = sub(origin, a);
		const u = dot(s, p) / det;
		const q = cross(s, e1);
		const v = dot(direction, q) / det;
		const t = dot(e2, q) / det;
		if (u >= 0 && v >= 0 && u + v <= 1 && t > 0 && t < best) best = t;
	}
	return best;
}

const somewhere = (random: ReturnType<typeof seededRandom>, reach: number): Vec3 => [
	reach * (2 * random.next() - 1),
	reach * (2 * random.next() - 1),
	reach * (2 * random.next() - 1),
];

describe("picker", () => {
	it("meets the surface where every triangle in turn does (seed 11)", () => {
		const random = seededRandom(11);
		let hits = 0;
		for (let i = 0; i < share(2000); i++) {
			const origin = somewhere(random, 400);
			const direction = unit(sub(somewhere(random, 120), origin));
			const slow = slowCast(origin, direction);
			const place = picker.cast(origin, direction);
			if (slow === Number.POSITIVE_INFINITY) expect(place).toBeNull();
			else {
				hits++;
				expect(length(sub(place?.position as Vec3, origin))).toBeCloseTo(slow, 2);
				expect(length(place?.normal as Vec3)).toBeCloseTo(1, 9);
			}
		}
		expect(hits).toBeGreaterThan(share(2000) / 4);
	});

	it("finds no place closer than the closest", () => {
		const random = seededRandom(12);
		for (let i = 0; i < share(500); i++) {
			const at = somewhere(random, 250);
			const found = picker.closest(at);
			const far = length(sub(found?.position as Vec3, at));
			for (let v = 0; v < shown.positions.length / 3; v++)
				expect(length(sub(corner(v), at))).toBeGreaterThanOrEqual(far - 1e-3);
		}
	});

	it("hides what the surface hides, and nothing else", () => {
		const random = seededRandom(13);
		for (let i = 0; i < share(1000); i++) {
			const v = random.below(shown.positions.length / 3);
			const normal: Vec3 = [shown.normals[3 * v], shown.normals[3 * v + 1], shown.normals[3 * v + 2]];
			const eye = unit(sub(somewhere(random, 100), [0, 0, 0]));
			const facing = dot(normal, eye);
			// On the very edge of sight a lifted and an unlifted ray may differ.
			if (Math.abs(facing) < 0.15) continue;
			const lifted = sub(corner(v), scale(normal, -0.6));
			const slow = facing < 0 || slowCast(lifted, eye) < Number.POSITIVE_INFINITY;
			expect(picker.hidden(corner(v), normal, eye)).toBe(slow);
		}
	});
});
