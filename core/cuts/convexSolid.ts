/**
 * The stone while it is being sawn: a convex polyhedron that planes take pieces from (handbook 11). Stone frame, mm, in
 * double precision; volumes are sums of exact pyramids, so they carry rounding errors alone.
 */

import type { StoneFace } from "../stone/block.ts";
import { along, cross, dot, length, sub, type Vec3 } from "../vector.ts";

export interface ConvexSolid {
	/** x, y, z of the corners. */
	readonly corners: Float64Array;
	/** Corners of each face, counter-clockwise from outside, one face after the other. */
	readonly loops: Uint32Array;
	/** Where each face starts in `loops`; one more entry than faces. */
	readonly starts: Uint32Array;
	/** Outward unit normal and offset of each face. */
	readonly planes: Float64Array;
	readonly names: readonly string[];
}

/** Keeps the stone where normal · x ≤ offset; `normal` is of unit length. */
export interface Plane {
	readonly normal: Vec3;
	readonly offset: number;
}

type FlatFace = Pick<StoneFace, "name" | "normal" | "offset" | "outline">;

/** Corners nearer to a plane than this share of the solid's size lie on it. */
const ON_PLANE = 1e-10;

export function solidOf(stone: { readonly faces: readonly FlatFace[] }): ConvexSolid {
	const size = Math.max(...stone.faces.flatMap((face) => face.outline).flatMap((corner) => corner.map(Math.abs)), 1);
	const corners: Vec3[] = [];
	const loops: number[] = [];
	const starts = [0];
	for (const face of stone.faces) {
		for (const corner of face.outline) {
			// Every corner belongs to three faces or more, which work it out each for itself.
			let at = corners.findIndex((known) => length(sub(known, corner)) <= 1e-8 * size);
			if (at < 0) at = corners.push(corner) - 1;
			loops.push(at);
		}
		starts.push(loops.length);
	}
	return {
		corners: Float64Array.from(corners.flat()),
		loops: Uint32Array.from(loops),
		starts: Uint32Array.from(starts),
		planes: Float64Array.from(stone.faces.flatMap((face) => [...face.normal, face.offset])),
		names: stone.faces.map((face) => face.name),
	};
}

const cornerOf = ({ corners }: ConvexSolid, i: number): Vec3 => [
	corners[3 * i],
	corners[3 * i + 1],
	corners[3 * i + 2],
];

/** The corners of one face in order. */
export const faceOf = (solid: ConvexSolid, face: number): Vec3[] =>
	Array.from(solid.loops.subarray(solid.starts[face], solid.starts[face + 1]), (i) => cornerOf(solid, i));

export const planeOf = ({ planes }: ConvexSolid, face: number): Plane => ({
	normal: [planes[4 * face], planes[4 * face + 1], planes[4 * face + 2]],
	offset: planes[4 * face + 3],
});

/** How far each corner lies beyond the plane; exactly 0 for those that lie on it but for rounding. */
function beyond({ corners }: ConvexSolid, { normal, offset }: Plane): Float64Array {
	const heights = new Float64Array(corners.length / 3);
	let size = Math.abs(offset);
	for (const x of corners) if (Math.abs(x) > size) size = Math.abs(x);
	for (let i = 0; i < heights.length; i++) {
		const height =
			normal[0] * corners[3 * i] + normal[1] * corners[3 * i + 1] + normal[2] * corners[3 * i + 2] - offset;
		heights[i] = Math.abs(height) <= ON_PLANE * size ? 0 : height;
	}
	return heights;
}

/**
 * What is kept by a cut; its new face comes last and carries `name`. The very same solid when the plane takes nothing, null
 * when it leaves nothing.
 */
export function cutBy(solid: ConvexSolid, plane: Plane, name: string): ConvexSolid | null {
	const heights = beyond(solid, plane);
	if (!heights.some((h) => h > 0)) return solid;
	if (!heights.some((h) => h < 0)) return null;
	const corners: number[] = [];
	const renumbered = new Int32Array(heights.length).fill(-1);
	const keep = (i: number): number => {
		if (renumbered[i] < 0) renumbered[i] = corners.push(...cornerOf(solid, i)) / 3 - 1;
		return renumbered[i];
	};
	/** Two faces share every edge, and with it the corner that the cut makes on it. */
	const onEdge = new Map<number, number>();
	const crossing = (i: number, j: number): number => {
		const [low, high] = i < j ? [i, j] : [j, i];
		const key = low * heights.length + high;
		let made = onEdge.get(key);
		if (made === undefined) {
			const a = cornerOf(solid, low);
			const share = heights[low] / (heights[low] - heights[high]);
			made = corners.push(...along(a, sub(cornerOf(solid, high), a), share)) / 3 - 1;
			onEdge.set(key, made);
		}
		return made;
	};
	const loops: number[] = [];
	const starts = [0];
	const planes: number[] = [];
	const names: string[] = [];
	/** Along the rim of the cut: the corner that follows each corner, seen from outside the new face. */
	const next = new Map<number, number>();
	for (let f = 0; f + 1 < solid.starts.length; f++) {
		const ring = solid.loops.subarray(solid.starts[f], solid.starts[f + 1]);
		const kept: number[] = [];
		const onCut: boolean[] = [];
		ring.forEach((i, k) => {
			const j = ring[(k + 1) % ring.length];
			if (heights[i] <= 0) {
				kept.push(keep(i));
				onCut.push(heights[i] === 0);
			}
			if ((heights[i] < 0 && heights[j] > 0) || (heights[i] > 0 && heights[j] < 0)) {
				kept.push(crossing(i, j));
				onCut.push(true);
			}
		});
		if (kept.length < 3) continue;
		kept.forEach((i, k) => {
			const after = (k + 1) % kept.length;
			if (onCut[k] && onCut[after]) next.set(kept[after], i);
		});
		loops.push(...kept);
		starts.push(loops.length);
		planes.push(...solid.planes.subarray(4 * f, 4 * f + 4));
		names.push(solid.names[f]);
	}
	const [first] = next.keys();
	let at = first;
	do {
		loops.push(at);
		at = next.get(at) as number;
	} while (at !== first);
	starts.push(loops.length);
	return {
		corners: Float64Array.from(corners),
		loops: Uint32Array.from(loops),
		starts: Uint32Array.from(starts),
		planes: Float64Array.from([...planes, ...plane.normal, plane.offset]),
		names: [...names, name],
	};
}

/** The flat section of the solid by a plane, counter-clockwise seen against the normal; empty where they do not meet. */
export function sectionOf(solid: ConvexSolid, plane: Plane): Vec3[] {
	const kept = cutBy(solid, plane, "");
	return kept === null || kept === solid ? [] : faceOf(kept, kept.names.length - 1);
}

/** mm³ and the centre of gravity of an even solid. */
export function measuresOf(solid: ConvexSolid): { volume: number; centre: Vec3 } {
	const apex = cornerOf(solid, 0);
	let volume = 0;
	let moment: Vec3 = [0, 0, 0];
	for (let f = 0; f + 1 < solid.starts.length; f++) {
		const ring = faceOf(solid, f).map((corner) => sub(corner, apex));
		for (let k = 1; k + 1 < ring.length; k++) {
			const part = dot(ring[0], cross(ring[k], ring[k + 1])) / 6;
			volume += part;
			for (const corner of [ring[0], ring[k], ring[k + 1]]) moment = along(moment, corner, part / 4);
		}
	}
	return { volume, centre: along(apex, moment, 1 / volume) };
}

/**
 * Volume beyond a plane without building what is left, mm³: pyramids over the faces' parts beyond the plane, with their apex
 * on the plane, so that the cut itself adds nothing.
 */
export function volumeBeyond({ corners, loops, starts }: ConvexSolid, { normal, offset }: Plane): number {
	const [nx, ny, nz] = normal;
	const [qx, qy, qz] = [nx * offset, ny * offset, nz * offset];
	let sixfold = 0;
	for (let f = 0; f + 1 < starts.length; f++) {
		// A fan from the first corner beyond the plane; ring corners relative to the apex.
		let count = 0;
		let ax = 0;
		let ay = 0;
		let az = 0;
		let bx = 0;
		let by = 0;
		let bz = 0;
		let i = 3 * loops[starts[f + 1] - 1];
		let px = corners[i] - qx;
		let py = corners[i + 1] - qy;
		let pz = corners[i + 2] - qz;
		let before = nx * px + ny * py + nz * pz;
		for (let k = starts[f]; k < starts[f + 1]; k++) {
			i = 3 * loops[k];
			const x = corners[i] - qx;
			const y = corners[i + 1] - qy;
			const z = corners[i + 2] - qz;
			const height = nx * x + ny * y + nz * z;
			// The crossing of the edge first, then the corner itself.
			for (let step = before > 0 !== height > 0 ? 0 : 1; step < 2; step++) {
				if (step === 1 && !(height > 0)) break;
				const share = step === 0 ? before / (before - height) : 1;
				const cx = px + share * (x - px);
				const cy = py + share * (y - py);
				const cz = pz + share * (z - pz);
				if (count === 0) {
					ax = cx;
					ay = cy;
					az = cz;
				} else if (count > 1) {
					sixfold += ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
				}
				bx = cx;
				by = cy;
				bz = cz;
				count++;
			}
			px = x;
			py = y;
			pz = z;
			before = height;
		}
	}
	return sixfold / 6;
}
