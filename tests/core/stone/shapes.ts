import { finish } from "../../../core/job.ts";
import type { Random } from "../../../core/random.ts";
import { convexHull, type Hull } from "../../../core/stone/hull.ts";
import { type Mat3, rotationFromQuaternion, turn, type Vec3 } from "../../../core/vector.ts";

export const hullOf = (points: readonly Vec3[]): Hull => finish(convexHull(Float64Array.from(points.flat())));

/** A right prism over a flat outline, from z = 0. */
export const prism = (outline: readonly (readonly [number, number])[], height: number): Vec3[] =>
	outline.flatMap(([x, y]): Vec3[] => [
		[x, y, 0],
		[x, y, height],
	]);

export const regularPolygon = (sides: number, circumradius: number): [number, number][] =>
	Array.from({ length: sides }, (_, i) => {
		const angle = (2 * Math.PI * i) / sides;
		return [circumradius * Math.cos(angle), circumradius * Math.sin(angle)];
	});

export const cuboid = (x: number, y: number, z: number): Vec3[] =>
	prism(
		[
			[0, 0],
			[x, 0],
			[x, y],
			[0, y],
		],
		z,
	);

/** Uniform over all rotations: a normal four-vector as quaternion. */
export const randomRotation = (random: Random): Mat3 =>
	rotationFromQuaternion([random.normal(), random.normal(), random.normal(), random.normal()]);

export const turned = (points: readonly Vec3[], rotation: Mat3): Vec3[] => points.map((p) => turn(rotation, p));

/** Points on an ellipsoid, as figures without any flat side. */
export const ellipsoid = (random: Random, count: number, x: number, y: number, z: number): Vec3[] =>
	Array.from({ length: count }, () => {
		const p = [random.normal(), random.normal(), random.normal()];
		const l = Math.hypot(...p);
		return [(x * p[0]) / l, (y * p[1]) / l, (z * p[2]) / l];
	});

export const cloud = (random: Random, count: number, x: number, y: number, z: number): Vec3[] =>
	Array.from({ length: count }, () => [x * random.normal(), y * random.normal(), z * random.normal()]);

/** Scalene tetrahedron and an eight-cornered body without symmetry (reference values, group 8, entries 8.09 and 8.10), mm. */
export const SCALENE_TETRAHEDRON: Vec3[] = [
	[10, 20, -5],
	[110, 35, 0],
	[40, 150, 12],
	[55, 60, 170],
];
export const EIGHT_CORNERS: Vec3[] = [
	[0, 0, 0],
	[220, 30, 10],
	[180, 160, 40],
	[20, 140, 60],
	[40, 20, 190],
	[200, 60, 210],
	[150, 150, 240],
	[30, 110, 200],
];
