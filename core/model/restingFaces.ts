/** The faces of its hull on which a figure rests, how safely, and how it is turned to stand on one. */

import type { Job } from "../job.ts";
import { areaBetween } from "../scan/measures.ts";
import type { TriangleMesh } from "../scan/mesh.ts";
import type { Hull } from "../stone/hull.ts";
import { degreesFromTangent } from "../text/angle.ts";
import { cross, dot, length, type Mat3, scale, squareTo, sub, unit, type Vec3 } from "../vector.ts";
import { type Quaternion, quaternionFromRotation, quaternionProduct, tidyQuaternion } from "./quaternion.ts";

/** Hull triangles count as one face within this share of the hull's diagonal: the noise of a scanned foot. */
const FLAT_WITHIN = 5e-4;
/** Tangent of the least tipping angle, some 5°: what tips sooner is no stance, and on a ball everything is a face. */
const LEAST_TIPPING = 0.0875;
/** Tipping tangents that differ by less are even. */
const EVEN = 1e-6;
const MOST_FACES = 6;
/** Under this the front looks straight up or down on the new face, and the top of the figure takes its place. */
const FRONT_LOST = 1e-3;
const SLICE = 200_000;

/** A flat face of the hull; frame and mm of the hull's points. */
export interface HullFace {
	/** Outward, unit length. */
	readonly normal: Vec3;
	/** Corners of the contact, counter-clockwise from outside, on the face's plane. */
	readonly polygon: readonly Vec3[];
	/** mm² of the polygon */
	readonly area: number;
	/** The centre of mass stands over the polygon. */
	readonly stable: boolean;
	/** Least distance from the projected centre to an edge, mm; negative outside. */
	readonly margin: number;
	/** Of the centre of mass over the face, mm. */
	readonly height: number;
}

export interface RestingFace extends HullFace {
	/** Degrees by which it can be tipped over its nearest edge before it falls: atan(margin ÷ height). */
	readonly tips: number;
}

/** Where an open shell has its weight when it is equally thick everywhere: the centroid of its area. */
export function* areaCentroid({ positions: p, triangles: t }: TriangleMesh): Job<Vec3> {
	let total = 0;
	let sx = 0;
	let sy = 0;
	let sz = 0;
	for (let from = 0; from < t.length; from += 3 * SLICE) {
		const to = Math.min(t.length, from + 3 * SLICE);
		for (let i = from; i < to; i += 3) {
			const a = 3 * t[i];
			const b = 3 * t[i + 1];
			const c = 3 * t[i + 2];
			const area = areaBetween(p, t[i], t[i + 1], t[i + 2]);
			total += area;
			sx += area * (p[a] + p[b] + p[c]);
			sy += area * (p[a + 1] + p[b + 1] + p[c + 1]);
			sz += area * (p[a + 2] + p[b + 2] + p[c + 2]);
		}
		yield { stage: "weighing the shell", share: to / t.length };
	}
	return total > 0 ? [sx / (3 * total), sy / (3 * total), sz / (3 * total)] : [0, 0, 0];
}

/** Every face of the hull, its flat parts joined from the largest triangle on; `centre`: of mass. */
export function hullFaces({ vertices, triangles }: Hull, centre: Vec3): HullFace[] {
	const corner = (v: number): Vec3 => [vertices[3 * v], vertices[3 * v + 1], vertices[3 * v + 2]];
	const count = triangles.length / 3;
	const within = FLAT_WITHIN * diagonal(vertices);
	const neighbours = neighbourTriangles(triangles);
	/** Twice the area along the normal. */
	const spans: Vec3[] = [];
	for (let t = 0; t < count; t++) {
		const [a, b, c] = [corner(triangles[3 * t]), corner(triangles[3 * t + 1]), corner(triangles[3 * t + 2])];
		spans.push(cross(sub(b, a), sub(c, a)));
	}
	const sizes = spans.map(length);
	const order = Array.from({ length: count }, (_, t) => t).sort((a, b) => sizes[b] - sizes[a] || a - b);
	const taken = new Uint8Array(count);
	const faces: HullFace[] = [];
	for (const seed of order) {
		if (taken[seed] === 1 || sizes[seed] === 0) continue;
		const plane = unit(spans[seed]);
		const level = dot(plane, corner(triangles[3 * seed]));
		const isFlat = (t: number): boolean =>
			dot(spans[t], plane) > 0 &&
			[0, 1, 2].every((k) => Math.abs(dot(plane, corner(triangles[3 * t + k])) - level) <= within);
		const members = [seed];
		taken[seed] = 1;
		for (let m = 0; m < members.length; m++)
			for (let k = 0; k < 3; k++) {
				const next = neighbours[3 * members[m] + k];
				if (next < 0 || taken[next] === 1 || !isFlat(next)) continue;
				taken[next] = 1;
				members.push(next);
			}
		let sum: Vec3 = [0, 0, 0];
		const corners = new Set<number>();
		for (const t of members) {
			sum = [sum[0] + spans[t][0], sum[1] + spans[t][1], sum[2] + spans[t][2]];
			for (let k = 0; k < 3; k++) corners.add(triangles[3 * t + k]);
		}
		faces.push(faceOf(unit(sum), [...corners].map(corner), centre));
	}
	return faces;
}

/** The faces that it rests on, the safest first (tipping angle, then area, then order on the hull), at most six. */
export function restingFaces(hull: Hull, centre: Vec3): RestingFace[] {
	const tangent = ({ margin, height }: HullFace): number => margin / height;
	const even = (face: HullFace): number => Math.round(tangent(face) / EVEN);
	return hullFaces(hull, centre)
		.map((face, index) => ({ face, index }))
		.filter(({ face }) => face.stable && face.height > 0 && tangent(face) >= LEAST_TIPPING)
		.sort((a, b) => even(b.face) - even(a.face) || b.face.area - a.face.area || a.index - b.index)
		.slice(0, MOST_FACES)
		.map(({ face }) => ({ ...face, tips: degreesFromTangent(face.margin, face.height) }));
}

/**
 * The stance that stands the figure on a face whose outward normal is given in the model frame of the present stance; the
 * front stays as near −y as it can. `mirrored` as in the model frame: the mirror comes after the stance, so that the turn is
 * the mirrored one.
 */
export function restingStance(normal: Vec3, stance: Quaternion, mirrored: boolean): [number, number, number, number] {
	const up = scale(unit(normal), -1);
	const front: Vec3 = [0, -1, 0];
	let ahead = sub(front, scale(up, dot(front, up)));
	if (length(ahead) < FRONT_LOST) {
		const top: Vec3 = [0, 0, up[1] > 0 ? 1 : -1];
		ahead = sub(top, scale(up, dot(top, up)));
	}
	const y = scale(unit(ahead), -1);
	const x = cross(y, up);
	const turn: Mat3 = [x[0], x[1], x[2], y[0], y[1], y[2], up[0], up[1], up[2]];
	const [qx, qy, qz, qw] = quaternionFromRotation(turn);
	return tidyQuaternion(quaternionProduct(mirrored ? [qx, -qy, -qz, qw] : [qx, qy, qz, qw], stance));
}

function faceOf(normal: Vec3, corners: readonly Vec3[], centre: Vec3): HullFace {
	const u = squareTo(normal);
	const v = cross(normal, u);
	const level = Math.max(...corners.map((c) => dot(normal, c)));
	const flat = corners.map((c): readonly [number, number] => [dot(u, c), dot(v, c)]);
	const ring = outline(flat);
	const [px, py] = [dot(u, centre), dot(v, centre)];
	let margin = Number.POSITIVE_INFINITY;
	let double = 0;
	ring.forEach(([ax, ay], i) => {
		const [bx, by] = ring[(i + 1) % ring.length];
		const [ex, ey] = [bx - ax, by - ay];
		double += (ax - px) * (by - py) - (ay - py) * (bx - px);
		margin = Math.min(margin, (ex * (py - ay) - ey * (px - ax)) / Math.sqrt(ex * ex + ey * ey));
	});
	const polygon = ring.map(
		([a, b]): Vec3 => [
			a * u[0] + b * v[0] + level * normal[0],
			a * u[1] + b * v[1] + level * normal[1],
			a * u[2] + b * v[2] + level * normal[2],
		],
	);
	return { normal, polygon, area: double / 2, stable: margin > 0, margin, height: level - dot(normal, centre) };
}

/** Corners of the convex outline, counter-clockwise, none on a straight edge (Andrew 1979). */
function outline(points: readonly (readonly [number, number])[]): (readonly [number, number])[] {
	const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
	const half = (way: readonly (readonly [number, number])[]): (readonly [number, number])[] => {
		const kept: (readonly [number, number])[] = [];
		for (const p of way) {
			while (kept.length >= 2) {
				const [a, b] = [kept[kept.length - 2], kept[kept.length - 1]];
				if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0) break;
				kept.pop();
			}
			kept.push(p);
		}
		return kept.slice(0, -1);
	};
	return [...half(sorted), ...half(sorted.toReversed())];
}

/** The triangle over each edge, from corner k to the next; −1 where there is none. */
function neighbourTriangles(triangles: Uint32Array): Int32Array {
	const most = triangles.reduce((a, b) => Math.max(a, b), 0) + 1;
	const edges = new Map<number, number>();
	const end = (i: number): number => triangles[i % 3 === 2 ? i - 2 : i + 1];
	for (let i = 0; i < triangles.length; i++) edges.set(triangles[i] * most + end(i), Math.floor(i / 3));
	return Int32Array.from(triangles, (v, i) => edges.get(end(i) * most + v) ?? -1);
}

/** Twice the furthest corner's distance from the corners' mean: unlike that of the bounds, the same however it is turned. */
function diagonal(vertices: Float64Array): number {
	const n = vertices.length / 3;
	const mean = [0, 0, 0];
	for (let i = 0; i < vertices.length; i++) mean[i % 3] += vertices[i] / n;
	let most = 0;
	for (let i = 0; i < vertices.length; i += 3) {
		const [x, y, z] = [vertices[i] - mean[0], vertices[i + 1] - mean[1], vertices[i + 2] - mean[2]];
		most = Math.max(most, x * x + y * y + z * z);
	}
	return 2 * Math.sqrt(most);
}
