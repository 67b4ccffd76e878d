/** Which way the surface bends: crossed strokes along both principal curvatures, where the two can be told apart. */

import {
	BufferAttribute,
	BufferGeometry,
	Color,
	Group,
	LineBasicMaterial,
	LineSegments,
	Matrix4,
	type Object3D,
} from "three";
import type { Placement } from "../../core/vector.ts";

/** Over the vertices of the mesh that is shown. */
export interface Bends {
	readonly positions: ArrayLike<number>;
	readonly normals: ArrayLike<number>;
	readonly k1: Float32Array;
	readonly k2: Float32Array;
	/** Unit direction of k1 × 127; zero where there is none. */
	readonly direction1: Int8Array;
	/** mm; half the length of a stroke along the greater curvature. */
	readonly half: number;
}

const MOST_STROKES = 3500;
/** The lesser curvature's stroke is this much shorter. */
const SHORTER = 0.6;
/** Strokes float this share of their half length over the surface, so that it does not hide them. */
const FLOAT = 0.12;
/** Curvatures nearer to each other than this share of the greater one have no direction worth a stroke. */
const TOLD_APART = 1 / 3;

export function createBendView() {
	const more = new LineBasicMaterial();
	const less = new LineBasicMaterial();
	const along = new LineSegments(new BufferGeometry(), more);
	const across = new LineSegments(new BufferGeometry(), less);
	const group = new Group();
	group.add(along, across);
	group.matrixAutoUpdate = false;
	group.visible = false;
	const replace = (of: LineSegments, ends: readonly number[]): void => {
		of.geometry.dispose();
		of.geometry = new BufferGeometry();
		of.geometry.setAttribute("position", new BufferAttribute(Float32Array.from(ends), 3));
	};
	return {
		object: group as Object3D,
		setBends(bends: Bends | null): void {
			group.visible = bends !== null;
			const { more: a, less: b } = bends ? strokes(bends) : { more: [], less: [] };
			replace(along, a);
			replace(across, b);
		},
		setPlacement({ rotation: r, translation: t }: Placement): void {
			group.matrix.copy(
				new Matrix4(r[0], r[1], r[2], t[0], r[3], r[4], r[5], t[1], r[6], r[7], r[8], t[2], 0, 0, 0, 1),
			);
			group.matrixWorldNeedsUpdate = true;
		},
		setColours(greater: string, lesser: string): void {
			more.color = new Color(greater);
			less.color = new Color(lesser);
		},
		dispose(): void {
			for (const of of [along, across]) of.geometry.dispose();
			more.dispose();
			less.dispose();
		},
	};
}

/** Ends of the strokes at vertices spread evenly over the list, which is spread over the figure as scans come. */
export function strokes({ positions: p, normals, k1, k2, direction1, half }: Bends): {
	more: number[];
	less: number[];
} {
	const step = Math.max(1, Math.floor(k1.length / MOST_STROKES));
	const more: number[] = [];
	const less: number[] = [];
	for (let v = 0; v < k1.length; v += step) {
		if (!(k1[v] - k2[v] > TOLD_APART * Math.max(Math.abs(k1[v]), Math.abs(k2[v])))) continue;
		const at = 3 * v;
		const d = [0, 1, 2].map((k) => direction1[at + k] / 127);
		const n = [normals[at], normals[at + 1], normals[at + 2]];
		const e = [n[1] * d[2] - n[2] * d[1], n[2] * d[0] - n[0] * d[2], n[0] * d[1] - n[1] * d[0]];
		for (const side of [-1, 1])
			for (let k = 0; k < 3; k++) {
				const from = p[at + k] + FLOAT * half * n[k];
				more.push(from + side * half * d[k]);
			}
		for (const side of [-1, 1])
			for (let k = 0; k < 3; k++) less.push(p[at + k] + FLOAT * half * n[k] + side * SHORTER * half * e[k]);
	}
	return { more, less };
}
