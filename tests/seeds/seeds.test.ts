import { createHash } from "node:crypto";
import { describe, expect, it } from "vitest";
import { finish } from "../../core/job.ts";
import { type TriangleMesh, triangleCount } from "../../core/scan/mesh.ts";
import { seeds } from "../../seeds/index.ts";
import { demoMesh } from "../support/demoPlans.ts";
import { shape } from "./shape.ts";

const digest = (mesh: TriangleMesh) =>
	createHash("sha256")
		.update(new Uint8Array(mesh.positions.buffer))
		.update(new Uint8Array(mesh.triangles.buffer))
		.digest("hex");

const expected = {
	owl: { triangles: [280_000, 320_000], height: 412, closed: true },
	"leaf-face": { triangles: [140_000, 160_000], height: 330, closed: false },
};

describe.each(seeds)("seed $name", (seed) => {
	const mesh = demoMesh(seed.name);
	const found = shape(mesh);
	const { triangles, height, closed } = expected[seed.name];

	it("has the triangles and the size of its commission", () => {
		expect(triangleCount(mesh)).toBeGreaterThanOrEqual(triangles[0]);
		expect(triangleCount(mesh)).toBeLessThanOrEqual(triangles[1]);
		expect(Math.abs(found.high[2] - found.low[2] - height)).toBeLessThan(1.5);
		expect(Math.abs(found.low[2])).toBeLessThan(0.5);
		for (let a = 0; a < 3; a++) {
			const room = seed.commission.blockMm[a] - (found.high[a] - found.low[a]);
			expect(room).toBeGreaterThan((a === 1 && seed.commission.backMm !== null ? 1 : 2) * seed.commission.marginMm);
		}
	});

	it(closed ? "is one closed shell that faces outwards" : "is one shell with one rim in the plane of its back", () => {
		expect(found).toMatchObject({ crowdedEdges: 0, flippedEdges: 0, shells: 1, pinchedVertices: 0 });
		expect(found.volume).toBeGreaterThan(1e6);
		expect(found.rims).toBe(closed ? 0 : 1);
		expect(found.openEdges > 0).toBe(!closed);
		if (!closed) expect(rimDepths(mesh).every((y) => Math.abs(y - found.high[1]) < 0.3)).toBe(true);
	});

	it("has no triangle without area", () => {
		expect(leastArea(mesh)).toBeGreaterThan(1e-6);
	});

	it("comes out with the same bytes again", () => {
		expect(digest(finish(seed.make()))).toBe(digest(mesh));
	});

	it("carries scan noise of 0.05 to 0.1 mm on its flat bed", () => {
		// Places well inside the flat underside, where nothing but noise moves them off z = 0.
		let sum = 0;
		let count = 0;
		for (let v = 0; v < mesh.positions.length; v += 3) {
			const [x, y, z] = mesh.positions.subarray(v, v + 3);
			const flat = closed ? x * x + y * y < 65 * 65 : Math.abs(x) < 80 && y > 70 && y < 110;
			if (!flat || Math.abs(z) > 1) continue;
			sum += z * z;
			count++;
		}
		expect(count).toBeGreaterThan(500);
		expect(Math.sqrt(sum / count)).toBeGreaterThan(0.05);
		expect(Math.sqrt(sum / count)).toBeLessThan(0.1);
	});
});

/** y of every vertex on an open edge. */
function rimDepths({ positions, triangles }: TriangleMesh): number[] {
	const edges = new Map<string, number>();
	for (let c = 0; c < triangles.length; c++) {
		const [a, b] = [triangles[c], triangles[c - (c % 3) + ((c + 1) % 3)]];
		const twin = edges.delete(`${b} ${a}`);
		if (!twin) edges.set(`${a} ${b}`, a);
	}
	return [...edges.values()].map((v) => positions[3 * v + 1]);
}

/** mm² of the smallest triangle. */
function leastArea({ positions: p, triangles }: TriangleMesh): number {
	let least = Infinity;
	for (let t = 0; t < triangles.length; t += 3) {
		const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
		const [u, v] = [b, c].map((q) => [p[q] - p[a], p[q + 1] - p[a + 1], p[q + 2] - p[a + 2]]);
		const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
		least = Math.min(least, Math.hypot(...n) / 2);
	}
	return least;
}
