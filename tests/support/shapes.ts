/** Meshes of surfaces whose curvature is known in closed form, at a chosen edge length, with or without scan-like noise. */

import { seededRandom } from "../../core/random.ts";
import type { TriangleMesh } from "../../core/scan/mesh.ts";

type Point = [number, number, number];

/** A mesh with what is known of it at every vertex. */
export interface Shape {
	readonly name: string;
	readonly mesh: TriangleMesh;
	/** 1/mm, positive = bulging. */
	readonly k1: Float64Array;
	readonly k2: Float64Array;
	/** Unit direction of k1, 3 a vertex. */
	readonly direction1: Float64Array;
	/** Outward, 3 a vertex. */
	readonly normals: Float64Array;
	/** mm to the nearest rim, roughly; Infinity on closed surfaces. */
	readonly rimDistance: Float64Array;
}

interface Local {
	readonly at: Point;
	readonly normal: Point;
	readonly k1: number;
	readonly k2: number;
	readonly direction1: Point;
}

export interface ShapeOptions {
	/** mm; mean length of the mesh's edges. */
	readonly edge: number;
	/** mm; standard deviation of every coordinate. */
	readonly noise?: number;
	readonly seed?: number;
	/** Share of an edge by which the vertices of a lattice are shaken along the surface. */
	readonly shake?: number;
}

function assemble(
	name: string,
	parameters: readonly (readonly [number, number])[],
	triangles: number[],
	rim: (i: number) => number,
	local: (u: number, v: number) => Local,
	options: ShapeOptions,
): Shape {
	const n = parameters.length;
	const random = seededRandom(options.seed ?? 1);
	const positions = new Float64Array(3 * n);
	const normals = new Float64Array(3 * n);
	const direction1 = new Float64Array(3 * n);
	const k1 = new Float64Array(n);
	const k2 = new Float64Array(n);
	const rimDistance = new Float64Array(n);
	for (let i = 0; i < n; i++) {
		const here = local(parameters[i][0], parameters[i][1]);
		for (let c = 0; c < 3; c++) {
			positions[3 * i + c] = here.at[c] + (options.noise ?? 0) * random.normal();
			normals[3 * i + c] = here.normal[c];
			direction1[3 * i + c] = here.direction1[c];
		}
		k1[i] = here.k1;
		k2[i] = here.k2;
		rimDistance[i] = rim(i);
	}
	return {
		name,
		mesh: { positions, triangles: Uint32Array.from(triangles) },
		k1,
		k2,
		direction1,
		normals,
		rimDistance,
	};
}

/**
 * A rectangle of parameters [0, width] × [0, height] (both in mm) as a triangular lattice; each direction either wraps or
 * ends in a rim. `local` maps parameters to the surface with u × v outward.
 */
function lattice(
	name: string,
	width: number,
	height: number,
	wraps: readonly [boolean, boolean],
	local: (u: number, v: number) => Local,
	options: ShapeOptions,
): Shape {
	const { edge } = options;
	const shake = (options.shake ?? 0.2) * edge;
	const random = seededRandom((options.seed ?? 1) + 77);
	const columns = Math.max(4, Math.round(width / edge));
	let rows = Math.max(4, Math.round(height / (edge * Math.sqrt(0.75))));
	if (wraps[1]) rows += rows % 2;
	const lastColumn = wraps[0] ? columns : columns + 1;
	const lastRow = wraps[1] ? rows : rows + 1;
	const parameters: [number, number][] = [];
	for (let r = 0; r < lastRow; r++) {
		for (let c = 0; c < lastColumn; c++) {
			const freeU = wraps[0] || (c > 0 && c < columns) ? 1 : 0;
			const freeV = wraps[1] || (r > 0 && r < rows) ? 1 : 0;
			const odd = r % 2 === 1 && freeU ? 0.5 : 0;
			parameters.push([
				((c + odd) * width) / columns + freeU * shake * (random.next() - 0.5),
				(r * height) / rows + freeV * shake * (random.next() - 0.5),
			]);
		}
	}
	const triangles: number[] = [];
	const at = (r: number, c: number) => (r % lastRow) * lastColumn + (c % lastColumn);
	for (let r = 0; r < rows; r++) {
		for (let c = 0; c < columns; c++) {
			const [a, b, d, e] = [at(r, c), at(r, c + 1), at(r + 1, c), at(r + 1, c + 1)];
			if (r % 2 === 0) triangles.push(a, b, d, b, e, d);
			else triangles.push(a, b, e, a, e, d);
		}
	}
	const rim = (i: number) => {
		const [u, v] = parameters[i];
		return Math.min(
			wraps[0] ? Number.POSITIVE_INFINITY : Math.min(u, width - u),
			wraps[1] ? Number.POSITIVE_INFINITY : Math.min(v, height - v),
		);
	};
	return assemble(name, parameters, triangles, rim, local, options);
}

/** A whole sphere about the origin: an icosahedron whose faces are divided evenly and pushed out to the radius. */
export function sphere(radius: number, options: ShapeOptions): Shape {
	const g = (1 + Math.sqrt(5)) / 2;
	const corners: Point[] = [
		[-1, g, 0],
		[1, g, 0],
		[-1, -g, 0],
		[1, -g, 0],
		[0, -1, g],
		[0, 1, g],
		[0, -1, -g],
		[0, 1, -g],
		[g, 0, -1],
		[g, 0, 1],
		[-g, 0, -1],
		[-g, 0, 1],
	];
	const faces = [
		[0, 11, 5],
		[0, 5, 1],
		[0, 1, 7],
		[0, 7, 10],
		[0, 10, 11],
		[1, 5, 9],
		[5, 11, 4],
		[11, 10, 2],
		[10, 7, 6],
		[7, 1, 8],
		[3, 9, 4],
		[3, 4, 2],
		[3, 2, 6],
		[3, 6, 8],
		[3, 8, 9],
		[4, 9, 5],
		[2, 4, 11],
		[6, 2, 10],
		[8, 6, 7],
		[9, 8, 1],
	];
	// Area of an even division: 20 n² triangles of side `edge`.
	const n = Math.max(
		1,
		Math.round(Math.sqrt((4 * Math.PI * radius * radius) / (20 * options.edge ** 2 * Math.sqrt(3 / 16)))),
	);
	const index = new Map<string, number>();
	const points: Point[] = [];
	const triangles: number[] = [];
	const vertex = (face: number[], i: number, j: number): number => {
		const weights: [number, number][] = [
			[face[0], n - i - j],
			[face[1], i],
			[face[2], j],
		];
		const key = weights
			.filter((w) => w[1] > 0)
			.sort((a, b) => a[0] - b[0])
			.join(";");
		let at = index.get(key);
		if (at === undefined) {
			at = points.length;
			index.set(key, at);
			const p: Point = [0, 0, 0];
			for (const [corner, w] of weights) for (let c = 0; c < 3; c++) p[c] += w * corners[corner][c];
			const l = Math.hypot(...p);
			points.push([p[0] / l, p[1] / l, p[2] / l]);
		}
		return at;
	};
	for (const face of faces) {
		for (let i = 0; i < n; i++) {
			for (let j = 0; i + j < n; j++) {
				triangles.push(vertex(face, i, j), vertex(face, i + 1, j), vertex(face, i, j + 1));
				if (i + j < n - 1) triangles.push(vertex(face, i + 1, j), vertex(face, i + 1, j + 1), vertex(face, i, j + 1));
			}
		}
	}
	const k = 1 / radius;
	return assemble(
		`sphere R ${radius}`,
		points.map((_, i) => [i, 0]),
		triangles,
		() => Number.POSITIVE_INFINITY,
		(i) => {
			const p = points[i];
			return { at: [p[0] * radius, p[1] * radius, p[2] * radius], normal: p, k1: k, k2: k, direction1: [0, 0, 0] };
		},
		options,
	);
}

/** A strip of a sphere of that radius about its equator, `span` mm square, with a rim: for large radii at fine edges. */
export function spherePatch(radius: number, span: number, options: ShapeOptions): Shape {
	const k = 1 / radius;
	return lattice(
		`sphere patch R ${radius}`,
		span,
		span,
		[false, false],
		(u, v) => {
			const a = (u - span / 2) / radius;
			const b = (v - span / 2) / radius;
			const normal: Point = [Math.cos(b) * Math.sin(a), -Math.cos(b) * Math.cos(a), Math.sin(b)];
			return {
				at: [normal[0] * radius, normal[1] * radius, normal[2] * radius],
				normal,
				k1: k,
				k2: k,
				direction1: [0, 0, 0],
			};
		},
		options,
	);
}

/** A tube of that radius along z, `length` mm long, without ends. */
export function cylinder(radius: number, length: number, options: ShapeOptions): Shape {
	return lattice(
		`cylinder R ${radius}`,
		2 * Math.PI * radius,
		length,
		[true, false],
		(u, v) => {
			const a = u / radius;
			const normal: Point = [Math.cos(a), Math.sin(a), 0];
			return {
				at: [radius * normal[0], radius * normal[1], v],
				normal,
				k1: 1 / radius,
				k2: 0,
				direction1: [-Math.sin(a), Math.cos(a), 0],
			};
		},
		options,
	);
}

/** A ring about z: the tube of radius `tube` runs at distance `ring` from the axis. */
export function torus(ring: number, tube: number, options: ShapeOptions): Shape {
	return lattice(
		`torus ${ring} ${tube}`,
		2 * Math.PI * ring,
		2 * Math.PI * tube,
		[true, true],
		(u, v) => {
			const a = u / ring;
			const b = v / tube;
			const along = Math.cos(b) / (ring + tube * Math.cos(b));
			return {
				at: [(ring + tube * Math.cos(b)) * Math.cos(a), (ring + tube * Math.cos(b)) * Math.sin(a), tube * Math.sin(b)],
				normal: [Math.cos(b) * Math.cos(a), Math.cos(b) * Math.sin(a), Math.sin(b)],
				k1: 1 / tube,
				k2: along,
				direction1: [-Math.sin(b) * Math.cos(a), -Math.sin(b) * Math.sin(a), Math.cos(b)],
			};
		},
		options,
	);
}

/** z = (x² − y²) / (2 p) over a square of `span` mm, seen from +z; p is the radius of curvature at the middle. */
export function saddle(p: number, span: number, options: ShapeOptions): Shape {
	return lattice(
		`saddle ${p}`,
		span,
		span,
		[false, false],
		(u, v) => {
			const x = u - span / 2;
			const y = v - span / 2;
			const fx = x / p;
			const fy = -y / p;
			const w = Math.sqrt(1 + fx * fx + fy * fy);
			const normal: Point = [-fx / w, -fy / w, 1 / w];
			// Weingarten map of a graph with outward normal +z: −I⁻¹ II, so that bulging is positive.
			const E = 1 + fx * fx;
			const F = fx * fy;
			const G = 1 + fy * fy;
			const L = 1 / p / w;
			const N = -1 / p / w;
			const d = E * G - F * F;
			const s11 = (-G * L) / d;
			const s12 = (F * N) / d;
			const s21 = (F * L) / d;
			const s22 = (-E * N) / d;
			const mean = (s11 + s22) / 2;
			const spread = Math.sqrt(Math.max(0, mean * mean - (s11 * s22 - s12 * s21)));
			const k1 = mean + spread;
			const a: [number, number] = Math.abs(s12) > Math.abs(k1 - s22) ? [s12, k1 - s11] : [k1 - s22, s21];
			const direction: Point = [a[0], a[1], fx * a[0] + fy * a[1]];
			const l = Math.hypot(...direction) || 1;
			return {
				at: [x, y, (x * x - y * y) / (2 * p)],
				normal,
				k1,
				k2: mean - spread,
				direction1: [direction[0] / l, direction[1] / l, direction[2] / l],
			};
		},
		options,
	);
}

/** The catenoid of waist radius c about z, `length` mm of profile to either side of the waist. */
export function catenoid(c: number, length: number, options: ShapeOptions): Shape {
	return lattice(
		`catenoid ${c}`,
		2 * Math.PI * c,
		2 * length,
		[true, false],
		(u, s) => {
			const a = u / c;
			// s − length is the arc length of the profile: sinh(z / c) = arc / c.
			const z = c * Math.asinh((s - length) / c);
			const r = c * Math.cosh(z / c);
			const slope = Math.sinh(z / c);
			const w = Math.cosh(z / c);
			const k = 1 / (c * w * w);
			return {
				at: [r * Math.cos(a), r * Math.sin(a), z],
				normal: [Math.cos(a) / w, Math.sin(a) / w, -slope / w],
				k1: k,
				k2: -k,
				direction1: [-Math.sin(a), Math.cos(a), 0],
			};
		},
		options,
	);
}

/** A flat square of `span` mm in z = 0, facing +z, with a rim. */
export function flat(span: number, options: ShapeOptions): Shape {
	return lattice(
		"flat",
		span,
		span,
		[false, false],
		(u, v) => ({ at: [u - span / 2, v - span / 2, 0], normal: [0, 0, 1], k1: 0, k2: 0, direction1: [0, 0, 0] }),
		options,
	);
}

/**
 * Two flats that meet in a straight sharp edge along y at x = 0, each falling away at `fall` degrees; the vertices nearest
 * the edge are drawn onto it. Curvatures are those of the flats.
 */
export function roof(fall: number, span: number, options: ShapeOptions): Shape {
	const columns = Math.max(4, Math.round(span / options.edge));
	const wide = span / columns;
	const angle = (fall * Math.PI) / 180;
	return lattice(
		`roof ${fall}`,
		span,
		span,
		[false, false],
		(u, v) => {
			const off = u - span / 2;
			const x = off > -0.55 * wide && off < 0.45 * wide ? 0 : off;
			return {
				at: [x * Math.cos(angle), v - span / 2, -Math.abs(x) * Math.sin(angle)],
				normal: [Math.sign(x) * Math.sin(angle), 0, Math.cos(angle)],
				k1: 0,
				k2: 0,
				direction1: [1, 0, 0],
			};
		},
		options,
	);
}
