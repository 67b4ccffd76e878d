import { expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { airAlongHole } from "../../../core/stone/airAlongHole.ts";
import { buildSurfaceIndex } from "../../../core/surface/surfaceIndex.ts";

/** Closed boxes from x0 to x1, 40 mm wide and high about the x axis. */
function boxes(...spans: [number, number][]): TriangleMesh {
	const positions: number[] = [];
	const triangles: number[] = [];
	const quads = ["0 2 3 1", "4 5 7 6", "0 1 5 4", "2 6 7 3", "0 4 6 2", "1 3 7 5"];
	for (const [x0, x1] of spans) {
		const from = positions.length / 3;
		for (const z of [-20, 20]) for (const y of [-20, 20]) for (const x of [x0, x1]) positions.push(x, y, z);
		for (const quad of quads) {
			const [a, b, c, d] = quad.split(" ").map((n) => from + Number(n));
			triangles.push(a, b, c, a, c, d);
		}
	}
	return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

it("tells stone from air along a hole, counted by hand", () => {
	// Stone from 0 to 50 and from 62 to 70; the body around it ends at 75.
	const scan = finish(buildSurfaceIndex(boxes([0, 50], [62, 70])));
	expect(airAlongHole(scan, [10, 3, 1], [75, 3, 1])).toBeCloseTo(12 + 5, 5);
	expect(airAlongHole(scan, [10, 3, 1], [45, 3, 1])).toBe(0);
	expect(airAlongHole(scan, [10, 3, 1], [66, 3, 1])).toBeCloseTo(12, 5);
	// Along an edge between two triangles, and leaning.
	expect(airAlongHole(scan, [10, 0, 0], [75, 0, 0])).toBeCloseTo(17, 5);
	expect(airAlongHole(scan, [10, -10, 0], [70, 10, 0])).toBeCloseTo((12 * Math.hypot(60, 20)) / 60, 5);
});
