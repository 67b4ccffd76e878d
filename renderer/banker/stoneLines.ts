/** What is drawn of a stone as lines and triangles: edges of any flat-faced stone, planes within it with their hatching. */

import { cutOutline } from "../../core/stone/faceOutline.ts";
import { along, cross, distance, dot, squareTo, type Vec3 } from "../../core/vector.ts";

/** A face as the banker needs it. */
export interface FaceShown {
	readonly normal: Vec3;
	readonly offset: number;
	readonly outline: readonly Vec3[];
}

/** Edges that two faces share, once each; x, y, z of either end. */
export function edgesOfFaces(faces: readonly FaceShown[]): number[] {
	const edges: number[] = [];
	const seen = new Set<string>();
	const key = (p: Vec3): string => p.map((x) => Math.round(x * 1e3)).join(" ");
	for (const { outline } of faces) {
		outline.forEach((a, i) => {
			const b = outline[(i + 1) % outline.length];
			const [p, q] = [key(a), key(b)];
			const name = p < q ? `${p}|${q}` : `${q}|${p}`;
			if (seen.has(name)) return;
			seen.add(name);
			edges.push(...a, ...b);
		});
	}
	return edges;
}

/** Faces as triangles, counter-clockwise from outside. */
export const trianglesOfFaces = (faces: readonly { readonly outline: readonly Vec3[] }[]): number[] =>
	faces.flatMap(({ outline }) =>
		outline.slice(2).flatMap((corner, i) => [...outline[0], ...outline[i + 1], ...corner]),
	);

/** The part of a plane n · x = offset that lies in the stone; empty where it misses it. */
export function planeWithin(faces: readonly FaceShown[], normal: Vec3, offset: number): Vec3[] {
	const corners = faces.flatMap((face) => face.outline);
	const reach = 2 * Math.max(...corners.map((corner) => distance(corner, corners[0])));
	const near = corners[0];
	const foot = along(near, normal, offset - dot(normal, near));
	const a = squareTo(normal);
	const b = cross(normal, a);
	let ring: Vec3[] = [
		[1, 1],
		[-1, 1],
		[-1, -1],
		[1, -1],
	].map(([s, t]) => along(along(foot, a, s * reach), b, t * reach));
	for (const face of faces) ring = cutOutline(ring, face.normal, face.offset);
	return ring.length < 3 ? [] : ring;
}

/** Strokes over a flat outline at this distance from each other, along `way` (in its plane); x, y, z of either end. */
export function hatchStrokes(outline: readonly Vec3[], normal: Vec3, way: Vec3, apart: number): number[] {
	const across = cross(normal, way);
	const heights = outline.map((p) => dot(across, p));
	const strokes: number[] = [];
	for (let h = (Math.floor(Math.min(...heights) / apart) + 0.5) * apart; h < Math.max(...heights); h += apart) {
		const ends: Vec3[] = [];
		outline.forEach((p, i) => {
			const j = (i + 1) % outline.length;
			if (heights[i] > h === heights[j] > h) return;
			const q = outline[j];
			const s = (h - heights[i]) / (heights[j] - heights[i]);
			ends.push([p[0] + s * (q[0] - p[0]), p[1] + s * (q[1] - p[1]), p[2] + s * (q[2] - p[2])]);
		});
		if (ends.length === 2) strokes.push(...ends[0], ...ends[1]);
	}
	return strokes;
}
