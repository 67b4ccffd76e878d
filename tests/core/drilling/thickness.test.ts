import { describe, expect, it } from "vitest";
import { thicknessAt } from "../../../core/drilling/thickness.ts";
import { finish } from "../../../core/job.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { buildSurfaceIndex } from "../../../core/surface/surfaceIndex.ts";
import { unit, type Vec3 } from "../../../core/vector.ts";
import { square, together, turned } from "../../support/groundMesh.ts";

const up: Vec3 = [0, 0, 1];
const at = (z: number, normal = up) => ({ position: [0.1, 0.2, z] as Vec3, normal });
const behind = (mesh: TriangleMesh, target = at(0)) => thicknessAt(finish(buildSurfaceIndex(mesh)), target);
/** Top and underside of a slab. */
const slab = (top: number, under: number) => together(square([0, 0, top], 50), turned(square([0, 0, under], 50)));

describe("the stone behind a target", () => {
	it("is the way to the far side, straight inward", () => {
		expect(behind(slab(0, -12))).toBeCloseTo(12, 9);
		const slanting = at(0, unit([3, 0, 4]));
		expect(behind(slab(0, -12), slanting)).toBeCloseTo(15, 9);
	});

	it("is none behind an open shell, even where another sheet of it lies behind", () => {
		expect(behind(square([0, 0, 0], 50))).toBeNull();
		expect(behind(together(square([0, 0, 0], 50), square([0, 0, -5], 50)))).toBeNull();
	});

	it("goes on through a part that overlaps, and stops at air between two parts", () => {
		expect(behind(together(slab(0, -12), slab(-8, -30)))).toBeCloseTo(30, 9);
		expect(behind(together(slab(0, -12), slab(-14, -30)))).toBeCloseTo(12, 9);
	});

	it("is not fooled by a triangle that the scan has twice", () => {
		expect(behind(together(slab(0, -12), square([0, 0, 0], 50)))).toBeCloseTo(12, 9);
	});
});
