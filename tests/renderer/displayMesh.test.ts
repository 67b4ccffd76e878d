/** The scan as it is drawn: cut into pieces, painted by a recipe. */

import { describe, expect, it } from "vitest";
import { vertexNormals } from "../../core/surface/vertexNormals.ts";
import { plasterLook, scannedLook, valueLook } from "../../renderer/banker/vertexLook.ts";
import { displayMesh } from "../../renderer/jobs/displayMesh.ts";
import { rippledRing } from "../support/rippledRing.ts";
import { eggMesh } from "./egg.ts";

describe("the pieces that are drawn", () => {
	it("hold every triangle once, in order, with the vertices' own places and normals", () => {
		for (const mesh of [eggMesh(9), rippledRing(300, 240)]) {
			const shown = displayMesh(mesh, vertexNormals(mesh));
			const together = shown.pieces.flatMap(({ vertices, corners }) => Array.from(corners, (c) => vertices[c]));
			expect(Uint32Array.from(together)).toEqual(mesh.triangles);
			for (const { vertices, positions, normals, corners } of shown.pieces) {
				// As many as 16 bits can name, and each vertex once.
				expect(vertices.length).toBeLessThan(65536);
				expect(new Set(vertices).size).toBe(vertices.length);
				expect(corners.length % 3).toBe(0);
				for (const i of [0, 7, vertices.length - 1])
					for (let k = 0; k < 3; k++) {
						expect(positions[3 * i + k]).toBe(shown.positions[3 * vertices[i] + k]);
						expect(normals[3 * i + k]).toBe(shown.normals[3 * vertices[i] + k]);
					}
			}
		}
		expect(displayMesh(rippledRing(300, 240), new Float64Array(3 * 300 * 240)).pieces.length).toBeGreaterThan(3);
	});

	it("keep the colours of the scan", () => {
		const mesh = eggMesh(9);
		const colours = Uint8Array.from(mesh.positions, (_, i) => i % 251);
		expect(displayMesh({ ...mesh, colours }, vertexNormals(mesh)).colours).toEqual(colours);
		expect(displayMesh(mesh, vertexNormals(mesh)).colours).toBeNull();
	});
});

describe("looks", () => {
	const painted = (look: ReturnType<typeof valueLook>, v: number): number[] => {
		const rgb = new Uint16Array(5);
		look.paint(v, rgb, 1);
		expect([rgb[0], rgb[4]]).toEqual([0, 0]);
		return [...rgb.slice(1, 4)];
	};

	it("show scanned colours as light: linear, black and white at the ends", () => {
		const look = scannedLook(Uint8Array.of(0, 255, 128, 10, 20, 30));
		expect(look.vertices).toBe(2);
		// sRGB 128 is 21.6 % of the light (IEC 61966-2-1).
		expect(painted(look, 0)).toEqual([0, 65535, expect.closeTo(0.2158 * 65535, -2)]);
	});

	it("go from dark to light with the value, and leave what has none as plaster", () => {
		const look = valueLook(Float32Array.of(0, 5, 10, 99, Number.NaN), 0, 10, Uint8Array.of(0, 1, 2, 0, 0), 5);
		const light = [0, 1, 2].map((v) => painted(look, v).reduce((sum, c) => sum + c, 0));
		expect(light).toEqual([...light].sort((a, b) => a - b));
		expect(painted(look, 3)).toEqual(painted(look, 2));
		expect([0, 1, 2, 3].map((v) => look.hatch?.(v))).toEqual([0, 1, 2, 0]);
		const [r, g, b] = painted(look, 4);
		expect(r).toBeGreaterThan(g);
		expect(g).toBeGreaterThan(b);
	});

	it("darken the hollows of plaster", () => {
		const look = plasterLook(Float32Array.of(0.05, -0.05), Float32Array.of(0.05, -0.05), 3);
		expect(painted(look, 1)[0]).toBeLessThan(painted(look, 0)[0]);
		expect(look.hatch).toBeNull();
	});
});
