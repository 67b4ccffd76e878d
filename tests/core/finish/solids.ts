/** Solids whose volume and centroid are known, faceted, and the closed form of the faceted solid itself. */

import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import type { Mat3, Vec3 } from "../../../core/vector.ts";
import { add, turn } from "../../../core/vector.ts";

export interface Solid {
	readonly name: string;
	readonly mesh: TriangleMesh;
	/** Of the faceted solid. */
	readonly volume: number;
	readonly centroid: Vec3;
	/** Of the smooth one. */
	readonly smoothVolume: number;
	readonly smoothCentroid: Vec3;
}

const meshOf = (corners: readonly Vec3[], triangles: readonly (readonly number[])[]): TriangleMesh => ({
	positions: Float64Array.from(corners.flat()),
	triangles: Uint32Array.from(triangles.flat()),
});

export function tetrahedron(): Solid {
	const mesh = meshOf(
		[
			[0, 0, 0],
			[90, 0, 0],
			[0, 120, 0],
			[0, 0, 150],
		],
		[
			[0, 2, 1],
			[0, 1, 3],
			[0, 3, 2],
			[1, 2, 3],
		],
	);
	const centroid: Vec3 = [22.5, 30, 37.5];
	return { name: "tetrahedron", mesh, volume: 270000, centroid, smoothVolume: 270000, smoothCentroid: centroid };
}

/** Area of a regular n-gon in a circle. */
const polygonArea = (n: number, r: number): number => (n / 2) * r * r * Math.sin((2 * Math.PI) / n);

/** A pyramid on a regular n-gon, its foot at z = 0. */
export function cone(r: number, h: number, n: number): Solid {
	const ring = Array.from({ length: n }, (_, i): Vec3 => {
		const a = (2 * Math.PI * i) / n;
		return [r * Math.cos(a), r * Math.sin(a), 0];
	});
	const corners: Vec3[] = [...ring, [0, 0, 0], [0, 0, h]];
	const triangles = ring.flatMap((_, i) => [
		[n, (i + 1) % n, i],
		[n + 1, i, (i + 1) % n],
	]);
	return {
		name: `cone of ${n} sides`,
		mesh: meshOf(corners, triangles),
		volume: (polygonArea(n, r) * h) / 3,
		centroid: [0, 0, h / 4],
		smoothVolume: (Math.PI * r * r * h) / 3,
		smoothCentroid: [0, 0, h / 4],
	};
}

/** A dome of stacked slices: regular n-gons at m even steps of latitude, its foot at z = 0. Closed form: frusta. */
export function hemisphere(r: number, n: number, m: number): Solid {
	const corners: Vec3[] = [];
	for (let j = 0; j < m; j++) {
		const b = (Math.PI / 2) * (j / m);
		for (let i = 0; i < n; i++) {
			const a = (2 * Math.PI * i) / n;
			corners.push([r * Math.cos(b) * Math.cos(a), r * Math.cos(b) * Math.sin(a), r * Math.sin(b)]);
		}
	}
	const [foot, top] = [corners.length, corners.length + 1];
	corners.push([0, 0, 0], [0, 0, r]);
	const triangles: number[][] = [];
	for (let i = 0; i < n; i++) {
		const next = (i + 1) % n;
		triangles.push([foot, next, i], [top, (m - 1) * n + i, (m - 1) * n + next]);
		for (let j = 0; j + 1 < m; j++) {
			const [a, b, c, d] = [j * n + i, j * n + next, (j + 1) * n + next, (j + 1) * n + i];
			triangles.push([a, b, c], [a, c, d]);
		}
	}
	// Slices are frusta of similar n-gons: V = k h (r0² + r0 r1 + r1²)/3, moment about its base k h² (r0² + 2 r0 r1 + 3 r1²)/12.
	const k = polygonArea(n, 1);
	let volume = 0;
	let moment = 0;
	for (let j = 0; j < m; j++) {
		const [b0, b1] = [(Math.PI / 2) * (j / m), (Math.PI / 2) * ((j + 1) / m)];
		const [r0, r1] = [r * Math.cos(b0), j + 1 === m ? 0 : r * Math.cos(b1)];
		const [z0, z1] = [r * Math.sin(b0), r * Math.sin(b1)];
		const h = z1 - z0;
		const v = (k * h * (r0 * r0 + r0 * r1 + r1 * r1)) / 3;
		volume += v;
		moment += v * z0 + (k * h * h * (r0 * r0 + 2 * r0 * r1 + 3 * r1 * r1)) / 12;
	}
	return {
		name: `hemisphere ${n} × ${m}`,
		mesh: meshOf(corners, triangles),
		volume,
		centroid: [0, 0, moment / volume],
		smoothVolume: (2 / 3) * Math.PI * r ** 3,
		smoothCentroid: [0, 0, (3 * r) / 8],
	};
}

/**
 * Half a torus, y ≥ 0, capped: a regular m-gon swept in n straight steps. Closed form by prismatoids: every step is the part
 * of the m-gon's straight prism between two planes through the axis, so with the section's area A and first and second
 * moments about the axis known, a step of angle w has volume 2 tan(w/2) ∫ρ dA and moment along its middle 2 tan(w/2) ∫ρ² dA.
 * The step's own sections stand at the corners, stretched by 1/cos(w/2) along ρ when seen along the chord's normal.
 */
export function halfTorus(R: number, r: number, n: number, m: number): Solid {
	const corners: Vec3[] = [];
	for (let i = 0; i <= n; i++) {
		const a = (Math.PI * i) / n;
		for (let j = 0; j < m; j++) {
			const b = (2 * Math.PI * j) / m;
			const rho = R + r * Math.cos(b);
			corners.push([rho * Math.cos(a), rho * Math.sin(a), r * Math.sin(b)]);
		}
	}
	const [first, last] = [corners.length, corners.length + 1];
	corners.push([R, 0, 0], [-R, 0, 0]);
	const triangles: number[][] = [];
	for (let j = 0; j < m; j++) {
		const k = (j + 1) % m;
		for (let i = 0; i < n; i++) {
			const [a, b, c, d] = [i * m + j, i * m + k, (i + 1) * m + k, (i + 1) * m + j];
			triangles.push([a, d, c], [a, c, b]);
		}
		triangles.push([first, j, k], [last, n * m + k, n * m + j]);
	}
	// A trapezium side between two stations is flat (its corners are two parallel chords), so a step is a prism cut by planes.
	const w = Math.PI / n;
	const half = Math.tan(w / 2);
	// In the plane square to the chord, distances from the axis shrink by cos(w/2).
	const s = Math.cos(w / 2);
	let first1 = 0;
	let second = 0;
	for (let j = 0; j < m; j++) {
		const [b0, b1] = [(2 * Math.PI * j) / m, (2 * Math.PI * (j + 1)) / m];
		const [x0, z0, x1, z1] = [
			s * (R + r * Math.cos(b0)),
			r * Math.sin(b0),
			s * (R + r * Math.cos(b1)),
			r * Math.sin(b1),
		];
		const c = x0 * z1 - x1 * z0;
		first1 += (c * (x0 + x1)) / 6;
		second += (c * (x0 * x0 + x0 * x1 + x1 * x1)) / 12;
	}
	const volume = n * 2 * half * first1;
	let y = 0;
	for (let i = 0; i < n; i++) y += Math.sin((i + 0.5) * w) * 2 * half * second;
	return {
		name: `half torus ${n} × ${m}`,
		mesh: meshOf(corners, triangles),
		volume,
		centroid: [0, y / volume, 0],
		smoothVolume: Math.PI ** 2 * R * r * r,
		smoothCentroid: [0, (4 * R * R + r * r) / (2 * Math.PI * R), 0],
	};
}

export const moved = (mesh: TriangleMesh, by: Mat3, shift: Vec3): TriangleMesh => {
	const positions = new Float64Array(mesh.positions.length);
	for (let i = 0; i < positions.length; i += 3)
		positions.set(add(turn(by, [mesh.positions[i], mesh.positions[i + 1], mesh.positions[i + 2]]), shift), i);
	return { positions, triangles: mesh.triangles };
};
