import { describe, expect, it } from "vitest";
import { thicknessField } from "../../../core/drilling/thicknessField.ts";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import { backShell } from "../../../core/scan/backShell.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { buildSurfaceIndex } from "../../../core/surface/surfaceIndex.ts";
import { vertexNormals } from "../../../core/surface/vertexNormals.ts";
import { demoMesh, seedNames } from "../../support/demoPlans.ts";
import { share } from "../../support/prove.ts";
import { sphere } from "../../support/shapes.ts";

const fieldOf = (mesh: TriangleMesh, normals = vertexNormals(mesh)): Float32Array =>
	finish(thicknessField(finish(buildSurfaceIndex(mesh)), normals));

/**
 * Every triangle against the ray (Möller and Trumbore 1997): the crossings in order, entering and leaving counted until the
 * ray is outside. Starts under the skin by as much as the stage does, which is part of what thickness means.
 */
function bruteThickness({ positions: p, triangles: t }: TriangleMesh, v: number, normals: Float64Array): number {
	const d = [0, 1, 2].map((k) => -normals[3 * v + k]);
	const from = [0, 1, 2].map((k) => p[3 * v + k]);
	const crossings: [number, number][] = [];
	for (let i = 0; i < t.length; i += 3) {
		const [a, b, c] = [3 * t[i], 3 * t[i + 1], 3 * t[i + 2]];
		const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
		const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
		const [qx, qy, qz] = [d[1] * vz - d[2] * vy, d[2] * vx - d[0] * vz, d[0] * vy - d[1] * vx];
		const det = ux * qx + uy * qy + uz * qz;
		if (det === 0) continue;
		const [wx, wy, wz] = [from[0] - p[a], from[1] - p[a + 1], from[2] - p[a + 2]];
		const f = (wx * qx + wy * qy + wz * qz) / det;
		if (f < -1e-9 || f > 1 + 1e-9) continue;
		const [rx, ry, rz] = [wy * uz - wz * uy, wz * ux - wx * uz, wx * uy - wy * ux];
		const g = (d[0] * rx + d[1] * ry + d[2] * rz) / det;
		if (g < -1e-9 || f + g > 1 + 1e-9) continue;
		const s = (vx * rx + vy * ry + vz * rz) / det;
		// det > 0: the ray runs against the triangle's normal, into the stone.
		if (s > 0.05) crossings.push([s, det > 0 ? 1 : -1]);
	}
	crossings.sort((x, y) => x[0] - y[0]);
	let within = 1;
	for (let i = 0; i < crossings.length; i++) {
		// A ray through an edge or a corner meets every triangle there and crosses the surface once.
		if (i > 0 && crossings[i][0] - crossings[i - 1][0] < 0.05) continue;
		within += crossings[i][1];
		if (within === 0) return crossings[i][0];
	}
	return Number.NaN;
}

describe("the thickness of the figure", () => {
	for (const name of seedNames)
		it(`equals brute-force rays on the ${name}`, () => {
			const scan = demoMesh(name);
			const mesh = name === "leaf-face" ? finish(backShell(scan, [0, 1, 0], 5)).mesh : scan;
			const normals = vertexNormals(mesh);
			const field = fieldOf(mesh, normals);
			const random = seededRandom(5);
			let known = 0;
			let odd = 0;
			const rays = share(1500);
			for (let i = 0; i < rays; i++) {
				const v = random.below(field.length);
				const brute = bruteThickness(mesh, v, normals);
				if (!Number.isNaN(field[v])) known++;
				if (Number.isNaN(field[v]) ? !Number.isNaN(brute) : !(Math.abs(field[v] - brute) < 1e-3)) {
					odd++;
					console.log(`${name}, vertex ${v}: ${field[v]} mm, by brute force ${brute} mm`);
				}
			}
			expect(known).toBeGreaterThan(0.98 * rays);
			expect(odd).toBe(0);
		});

	it("is the diameter on a sphere, everywhere", () => {
		const field = fieldOf(sphere(40, { edge: 2 }).mesh);
		for (const t of field) expect(Math.abs(t - 80)).toBeLessThan(0.1);
	});
});
