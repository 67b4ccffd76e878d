import { expect, test } from "vitest";
import { seededRandom } from "../../core/random.ts";
import { strokes } from "../../renderer/banker/bendView.ts";
import { createDabGrid } from "../../renderer/banker/dabGrid.ts";
import { brushedShown } from "../../renderer/state/brush.ts";
import { cylinder } from "../support/shapes.ts";

test("what was brushed is shown on its own side of a thin part, the later stroke over the earlier", () => {
	const positions = [0, 0, 1, 0, 0, 0, 9, 0, 1];
	const normals = [0, 0, 1, 0, 0, -1, 0, 0, 1];
	const dab = { position_mm: [0, 0, 1] as [number, number, number], normal: [0, 0, 1] as [number, number, number] };
	const shown = brushedShown(positions, normals, [
		{ factor: 0.6, dabs: [{ ...dab, radius_mm: 10 }] },
		{ factor: 0, dabs: [{ ...dab, radius_mm: 2 }] },
	]);
	expect([0, 1, 2].map((v) => Math.round(100 * shown(v)))).toEqual([0, 100, 60]);
});

test("of dabs of every size none that reaches a place is missed", () => {
	const random = seededRandom(12);
	const somewhere = (): [number, number, number] => [0, 1, 2].map(() => 400 * random.next() - 200) as never;
	const dabs = Array.from({ length: 300 }, () => ({ at: somewhere(), radius: 1 + 60 * random.next() ** 3 }));
	const near = createDabGrid(dabs);
	let most = 0;
	for (let i = 0; i < 500; i++) {
		const [x, y, z] = somewhere();
		const found = near(x, y, z);
		const reaching = dabs.flatMap(({ at, radius }, dab) =>
			Math.hypot(x - at[0], y - at[1], z - at[2]) <= radius ? [dab] : [],
		);
		expect(found).toEqual(expect.arrayContaining(reaching));
		expect([...found].sort((a, b) => a - b)).toEqual(found);
		most = Math.max(most, found.length);
	}
	expect(most).toBeLessThan(dabs.length / 5);
});

test("on a tube the long strokes go round it, the short ones along it", () => {
	const { mesh, normals, k1, k2, direction1 } = cylinder(20, 40, { edge: 2 });
	const half = 3;
	const { more, less } = strokes({
		positions: mesh.positions,
		normals,
		k1: Float32Array.from(k1),
		k2: Float32Array.from(k2),
		direction1: Int8Array.from(direction1, (x) => Math.round(127 * x)),
		half,
	});
	expect(more.length).toBe(6 * k1.length);
	for (let i = 0; i < more.length; i += 6) {
		expect(Math.hypot(...[0, 1, 2].map((k) => more[i + 3 + k] - more[i + k]))).toBeCloseTo(2 * half, 1);
		expect(Math.abs(more[i + 5] - more[i + 2])).toBeLessThan(0.1);
		expect(Math.abs(less[i + 5] - less[i + 2])).toBeCloseTo(2 * 0.6 * half, 1);
	}
});
