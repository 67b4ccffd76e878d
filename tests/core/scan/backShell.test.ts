import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { type BackedShell, backShell } from "../../../core/scan/backShell.ts";
import { examine, type ScanHealth } from "../../../core/scan/health.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import type { Vec3 } from "../../../core/vector.ts";
import { box, meshFrom, together } from "./brokenMeshes.ts";

const look = (mesh: TriangleMesh): ScanHealth => finish(examine(mesh));
const back = (mesh: TriangleMesh, direction: Vec3, distance: number): BackedShell =>
	finish(backShell(mesh, direction, distance));

/** A dome over the plane z = 0, open below: n meridians, n / 4 rings; every second spoke of the rim drawn in by `notch`. */
function dome(n: number, radius: number, notch = 0): TriangleMesh {
	const rings = n / 4;
	const points: number[][] = [[0, 0, radius]];
	for (let r = 1; r <= rings; r++)
		for (let i = 0; i < n; i++) {
			const [polar, around] = [(Math.PI * r) / (2 * rings), (2 * Math.PI * i) / n];
			const out = radius * Math.sin(polar) * (r === rings && i % 2 ? 1 - notch : 1);
			points.push([out * Math.cos(around), out * Math.sin(around), r === rings ? 0 : radius * Math.cos(polar)]);
		}
	const at = (r: number, i: number): number => (r === 0 ? 0 : 1 + (r - 1) * n + (i % n));
	const faces: number[][] = [];
	for (let i = 0; i < n; i++) {
		faces.push([0, at(1, i), at(1, i + 1)]);
		for (let r = 1; r < rings; r++)
			faces.push([at(r, i), at(r + 1, i), at(r + 1, i + 1)], [at(r, i), at(r + 1, i + 1), at(r, i + 1)]);
	}
	return meshFrom({ points, faces });
}

/** Volume between the open surface and the plane z = 0 on which its rim lies. */
const under = (mesh: TriangleMesh): number => {
	let six = 0;
	const { positions: p, triangles: t } = mesh;
	for (let i = 0; i < t.length; i += 3) {
		const [a, b, c] = [3 * t[i], 3 * t[i + 1], 3 * t[i + 2]];
		six += p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1]);
		six += p[a + 1] * (p[b + 2] * p[c] - p[b] * p[c + 2]);
		six += p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c]);
	}
	return six / 6;
};

describe("backShell", () => {
	it("a box without a lid, laid on its face: the walls go on to the back", () => {
		const lid = box([0, 0, 0], [30, 20, 10]);
		const open = meshFrom({ points: lid.points, faces: lid.faces.filter((_, t) => t !== 2 && t !== 3) });
		const { mesh, firstAddedTriangle } = back(open, [0, 0, 5], 7);
		expect(firstAddedTriangle).toBe(10);
		expect(mesh.triangles.length / 3).toBe(10 + 8 + 2);
		expect(look(mesh)).toMatchObject({
			closed: true,
			volume: 30 * 20 * 17,
			flippedTriangles: 0,
			bounds: { max: [30, 20, 17] },
		});
	});

	it.each([0, 0.4])("a dome gets the volume under it and the cylinder behind it, rim notched by %d", (notch) => {
		const shell = dome(48, 50, notch);
		const { mesh, firstAddedTriangle } = back(shell, [0, 0, -1], 12);
		const health = look(mesh);
		const rimArea = (48 * 50 * 50 * (1 - notch) * Math.sin((2 * Math.PI) / 48)) / 2;
		expect(health).toMatchObject({ closed: true, shells: 1, flippedTriangles: 0, nonManifoldEdges: 0 });
		expect(health.volume).toBeCloseTo(under(shell) + 12 * rimArea, 4);
		expect(mesh.positions.slice(0, shell.positions.length)).toEqual(shell.positions);
		expect(mesh.triangles.slice(0, 3 * firstAddedTriangle)).toEqual(shell.triangles);
	});

	it("turns with the figure", () => {
		const shell = dome(24, 50, 0.2);
		const straight = look(back(shell, [0, 0, -1], 9).mesh);
		// A rotation by a quaternion of whole numbers, 1 2 2 4 (norm 25).
		const [x, y, z, w] = [1, 2, 2, 4].map((c) => c / 5);
		const r = [
			[1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
			[2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
			[2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
		];
		const turned = shell.positions.map((_, i) => {
			const at = i - (i % 3);
			return [0, 1, 2].reduce((s, k) => s + r[i % 3][k] * shell.positions[at + k], 0);
		});
		const health = look(back({ ...shell, positions: turned }, [-r[0][2], -r[1][2], -r[2][2]], 9).mesh);
		expect(health.volume! / straight.volume!).toBeCloseTo(1, 9);
		expect(health.closed).toBe(true);
	});

	it("carries the rim, closes the holes in the face across, and serves several shells", () => {
		const shell = dome(24, 50);
		const holed = { ...shell, triangles: shell.triangles.filter((_, i) => Math.floor(i / 3) !== 30) };
		const one = look(back(holed, [0, 0, -1], 5).mesh);
		expect(one.closed).toBe(true);
		expect(one.volume).toBeCloseTo(look(back(shell, [0, 0, -1], 5).mesh).volume!, 6);
		const asDraft = (m: TriangleMesh, dx: number) => ({
			points: Array.from({ length: m.positions.length / 3 }, (_, v) => [
				m.positions[3 * v] + dx,
				m.positions[3 * v + 1],
				m.positions[3 * v + 2],
			]),
			faces: Array.from({ length: m.triangles.length / 3 }, (_, t) => [...m.triangles.slice(3 * t, 3 * t + 3)]),
		});
		const two = look(back(meshFrom(together(asDraft(shell, 0), asDraft(shell, 200))), [0, 0, -1], 5).mesh);
		expect(two).toMatchObject({ closed: true, shells: 2 });
	});

	it("keeps colours, the back in those of the rim", () => {
		const shell = dome(8, 50);
		const colours = Uint8Array.from(shell.positions, (_, i) => i % 251);
		const { mesh } = back({ ...shell, colours }, [0, 0, -1], 5);
		expect(mesh.colours?.length).toBe(mesh.positions.length);
		expect(mesh.colours?.slice(0, colours.length)).toEqual(colours);
	});

	it("refuses a closed figure, a back on the carved side, no direction, no distance and a rim that stops", () => {
		const shell = dome(24, 50);
		expect(() => back(meshFrom(box([0, 0, 0], [1, 1, 1])), [0, 0, -1], 5)).toThrow("back.closed");
		expect(() => back(shell, [0, 0, 1], 5)).toThrow("back.side");
		expect(() => back(shell, [0, 0, 0], 5)).toThrow("back.direction");
		expect(() => back(shell, [0, Number.NaN, 0], 5)).toThrow("back.direction");
		expect(() => back(shell, [0, 0, -1], 0)).toThrow("back.distance");
		const last = shell.triangles.length - 3;
		const turnedOne = shell.triangles.slice();
		// The triangle before the last one has an edge on the rim.
		const [p, q, r] = shell.triangles.slice(last - 3, last);
		turnedOne.set([p, r, q], last - 3);
		expect(() => back({ ...shell, triangles: turnedOne }, [0, 0, -1], 5)).toThrow("back.brokenRim");
	});
});
