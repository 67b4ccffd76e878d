import { beforeAll, describe, expect, it } from "vitest";
import { stopSaw, USUAL_SAWS } from "../../../core/cuts/saws.ts";
import { stopCuts } from "../../../core/cuts/stopCuts.ts";
import { airAlong, type StopField } from "../../../core/cuts/stopField.ts";
import { bestWindow } from "../../../core/cuts/stopWindow.ts";
import { finish } from "../../../core/job.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { stoneOf } from "../../../core/stone/block.ts";
import { convexHull } from "../../../core/stone/hull.ts";
import { buildSurfaceIndex } from "../../../core/surface/surfaceIndex.ts";
import { dot, IDENTITY, type Placement, sub, type Vec3 } from "../../../core/vector.ts";
import { demoInput } from "../../support/demoPlans.ts";

/** Stop cuts of a figure in a block with the same room on all sides, no through cuts before. */
function fieldsOf(
	mesh: TriangleMesh,
	room: number,
	count: number,
): { fields: StopField[]; placement: Placement; size: Vec3 } {
	const low = [Infinity, Infinity, Infinity];
	const high = [-Infinity, -Infinity, -Infinity];
	mesh.positions.forEach((x, i) => {
		low[i % 3] = Math.min(low[i % 3], x);
		high[i % 3] = Math.max(high[i % 3], x);
	});
	const size: Vec3 = [high[0] - low[0] + 2 * room, high[1] - low[1] + 2 * room, high[2] - low[2] + 2 * room];
	const placement: Placement = { rotation: IDENTITY, translation: [room - low[0], room - low[1], room - low[2]] };
	const fields = finish(
		stopCuts({
			index: finish(buildSurfaceIndex(mesh)),
			placement,
			kept: [],
			left: stoneOf({ kind: "box", size }),
			hull: finish(convexHull(mesh.positions)),
			saw: USUAL_SAWS["bridge saw"],
			lieFace: "bed",
			density: [2600, 2800],
			count,
		}),
	);
	return { fields, placement, size };
}

/** A block 100 wide, 100 deep and 220 high with a slot 90 high and 60 deep across its front: three boxes' outer skin. */
function slotted(): TriangleMesh {
	const profile: [number, number][] = [
		[0, 0],
		[100, 0],
		[100, 220],
		[0, 220],
		[0, 155],
		[60, 155],
		[60, 65],
		[0, 65],
	];
	const positions = [0, 100].flatMap((x) => profile.flatMap(([y, z]) => [x, y, z]));
	const n = profile.length;
	const triangles: number[] = [];
	for (let i = 0; i < n; i++) {
		const j = (i + 1) % n;
		triangles.push(i, n + i, n + j, i, n + j, j);
	}
	// The ends as fans over their three rectangles.
	for (const [a, b, c, d] of [
		[0, 1, 6, 7],
		[1, 2, 5, 6],
		[2, 3, 4, 5],
	]) {
		triangles.push(a, b, c, a, c, d, n + c, n + b, n + a, n + d, n + c, n + a);
	}
	return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

describe("stop cuts", () => {
	it("go into a slot as deep as the allowance lets them, counted by hand", () => {
		const { fields } = fieldsOf(slotted(), 25, 1);
		expect(fields).toHaveLength(1);
		const [field] = fields;
		// Over the slot's floor at 25 + 60 stay 15 and half of 6: 67, or a little less where the last halves are not told clear.
		expect(field.face.name).toBe("front");
		const deepest = Math.max(...field.kerfs.map((kerf) => kerf.depth));
		expect(deepest).toBeLessThanOrEqual(67);
		expect(deepest).toBeGreaterThanOrEqual(65);
		// The slot is 90 high, and 18 stay on either side: the kerfs lie within 108 to 162 over the bed.
		const across: [number, number] =
			field.runs === "u" ? [field.kerfs[0].at, field.kerfs[field.kerfs.length - 1].at] : [field.from, field.to];
		expect(across[0]).toBeGreaterThanOrEqual(108 - 6);
		expect(across[1]).toBeLessThanOrEqual(162 + 6);
		if (field.runs === "u") {
			const floors = field.kerfs
				.slice(1)
				.map((kerf, i) => ((kerf.depth + field.kerfs[i].depth) / 2) * (kerf.at - field.kerfs[i].at));
			expect(field.volume).toBeCloseTo(floors.reduce((sum, f) => sum + f, 0) * (field.to - field.from), 3);
		}
	});

	it("are none where there is no hollow, and none with a wire alone", () => {
		const solid: TriangleMesh = finish(convexHull(slotted().positions)) as never;
		const { fields } = fieldsOf(
			{ positions: (solid as never as { vertices: Float64Array }).vertices, triangles: solid.triangles },
			25,
			2,
		);
		expect(fields).toEqual([]);
		expect(stopSaw(USUAL_SAWS["wire saw"]).kind).toBe("hand disc");
	});

	it("find the best window of a small grid, as trying all of them does", () => {
		const [rows, columns] = [9, 12];
		const safe = Float64Array.from({ length: rows * columns }, (_, i) => (i * 37) % 41);
		const entered = Float64Array.from({ length: rows * columns }, (_, i) => 5 + ((i * 13) % 9));
		const found = finish(bestWindow({ rows, columns, cell: 2, low: [0, 0], safe, entered }, 2, 3));
		let best = 0;
		for (let from = 0; from < columns; from++)
			for (let to = from + 6; to <= columns; to += 2)
				for (let first = 0; first < rows; first++)
					for (let strips = 1; first + 2 * strips <= rows; strips++) {
						let value = 0;
						for (let s = 0; s < strips && value > Number.NEGATIVE_INFINITY; s++) {
							const cells = [0, 1].flatMap((k) =>
								Array.from({ length: to - from }, (_, c) => (first + 2 * s + k) * columns + from + c),
							);
							const depth = Math.min(...cells.map((c) => safe[c]));
							value =
								depth < 3
									? Number.NEGATIVE_INFINITY
									: value + cells.reduce((sum, c) => sum + 4 * Math.max(0, depth - entered[c]), 0);
						}
						best = Math.max(best, value);
					}
		expect(found?.value ?? 0).toBeCloseTo(best, 9);
	});

	describe("on the owl", () => {
		let owl: ReturnType<typeof fieldsOf>;
		let positions: Float64Array;
		beforeAll(() => {
			const { mesh } = demoInput("owl").scan.file;
			positions = mesh.positions;
			owl = fieldsOf(mesh, 25, 1);
		}, 60_000);

		it("keep their allowance to every vertex, kerfs with their run-out and all stone between them", () => {
			const saw = USUAL_SAWS["bridge saw"];
			const over = saw.allowance + saw.kerf / 2 - 1e-9;
			expect(owl.fields.length).toBeGreaterThan(0);
			for (const { face, runs, from, to, kerfs } of owl.fields) {
				const [run, step] = runs === "u" ? [face.u, face.v] : [face.v, face.u];
				for (let i = 0; i < positions.length; i += 3) {
					const at = sub(
						[0, 1, 2].map((k) => positions[i + k] + owl.placement.translation[k]) as unknown as Vec3,
						face.origin,
					);
					const [x, y, z] = [dot(at, step), dot(at, run), -dot(at, face.normal)];
					for (let k = 0; k + 1 < kerfs.length; k++) {
						const depth = Math.min(kerfs[k].depth, kerfs[k + 1].depth);
						const dx = Math.max(kerfs[k].at - x, 0, x - kerfs[k + 1].at);
						const dy = Math.max(from - y, 0, y - to);
						const dz = Math.max(-z, 0, z - depth);
						if (Math.sqrt(dx * dx + dy * dy + dz * dz) < over) throw new Error(`vertex ${i / 3} stands in strip ${k}`);
					}
					for (const kerf of kerfs) {
						// The disc's path: a rectangle with the lower parts of two discs, here by their steps.
						const radius = (saw.disc as number) / 2;
						for (let h = 0; h <= kerf.depth; h += 1) {
							const runOut = Math.sqrt(2 * radius * h - h * h);
							const dy = Math.max(from - runOut - y, 0, y - to - runOut);
							const dz = z - (kerf.depth - h);
							const dx = x - kerf.at;
							if (dx * dx + dy * dy + dz * dz < over * over)
								throw new Error(`vertex ${i / 3} stands in the kerf at ${kerf.at}`);
						}
					}
				}
			}
		});

		it("tell the air along a way into the stone", () => {
			const [field] = owl.fields;
			const [run, step] = field.runs === "u" ? [field.face.u, field.face.v] : [field.face.v, field.face.u];
			const [a, b] = field.kerfs;
			const on = (x: number, y: number, z: number): Vec3 =>
				[0, 1, 2].map(
					(k) => field.face.origin[k] + x * step[k] + y * run[k] - z * field.face.normal[k],
				) as unknown as Vec3;
			const middle = (field.from + field.to) / 2;
			expect(airAlong([field], on((a.at + b.at) / 2, middle, 0), on((a.at + b.at) / 2, middle, 200))).toBeCloseTo(
				(a.depth + b.depth) / 2,
				9,
			);
			expect(airAlong([field], on(a.at - 5, middle, 0), on(a.at - 5, middle, 200))).toBe(0);
		});
	});
});
