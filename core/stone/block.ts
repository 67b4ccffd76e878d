/**
 * The stone as a convex body: a sawn block, or any stone bounded by planes.
 *
 * Stone frame: marked corner at the origin, the block's edges along the axes. Every face has an outward unit normal, an
 * origin and two axes u and v, on which places are measured (handbook 16).
 */
import type { FaceName } from "../plan/commission.ts";
import { Refusal } from "../refusal.ts";
import { add, along, cross, dot, length, scale, squareTo, sub, unit, type Vec3 } from "../vector.ts";
import { axesOnFace, cutOutline, type FaceAxes, outlineArea, withoutDoubles } from "./faceOutline.ts";

export type Block =
	| { readonly kind: "box"; readonly size: Vec3 }
	/** A block with corners and edges broken off: the planes of the breaks, as below. */
	| { readonly kind: "broken"; readonly size: Vec3; readonly planes: Float64Array }
	/** A block as it was measured: the planes of left, right, front, back, bed and top, not quite square; then its breaks. */
	| { readonly kind: "measured"; readonly sides: Float64Array; readonly planes: Float64Array }
	/** nx, ny, nz, b of each face: stone where n · x ≤ b. Normals of any length. */
	| { readonly kind: "planes"; readonly planes: Float64Array };

export interface StoneFace {
	/** bed, top, front, back, left, right of a block; "break 1" or "face 1" and so on, in the order of the planes. */
	readonly name: string;
	/** Outward unit normal; n · x = offset on the face. */
	readonly normal: Vec3;
	readonly offset: number;
	/** Where u = v = 0, and the unit directions in which they grow. */
	readonly origin: Vec3;
	readonly u: Vec3;
	readonly v: Vec3;
	/** Corners of the face, counter-clockwise from outside, mm. */
	readonly outline: readonly Vec3[];
	/** mm² */
	readonly area: number;
}

export interface Stone {
	readonly block: Block;
	readonly faces: readonly StoneFace[];
	/** Unit normal and offset of each face, for loops. */
	readonly planes: Float64Array;
	/** mm³ */
	readonly volume: number;
}

/** Corners of one face and of the whole stone count as the same within this share of its size. */
const SAME = 1e-9;

/** A face before its outline is known; `axes` where u and v are settled already. */
interface FacePlane {
	readonly name: string;
	readonly normal: Vec3;
	readonly offset: number;
	readonly axes?: FaceAxes;
}

/** The stone of a block. Refuses planes that do not close around any stone, or that leave none. */
export function stoneOf(block: Block): Stone {
	if (block.kind === "planes") return bounded(block, namedPlanes(block.planes, "face"));
	if (block.kind === "measured")
		return bounded(block, [...measuredPlanes(block.sides), ...namedPlanes(block.planes, "break")]);
	for (const side of block.size) {
		if (!(side > 0 && Number.isFinite(side))) throw new Refusal("stone.side", { found: side });
	}
	const box = boxPlanes(block.size);
	if (block.kind === "broken") return bounded(block, [...box, ...namedPlanes(block.planes, "break")]);
	const [l, w, h] = block.size;
	const faces = box.map((plane): StoneFace => {
		const { origin, u, v } = plane.axes;
		const [du, dv] = [dot(u, block.size), dot(v, block.size)];
		const ring = [origin, along(origin, u, du), along(along(origin, u, du), v, dv), along(origin, v, dv)];
		// u × v points out of the stone on right, front and top only.
		const outline = dot(cross(u, v), plane.normal) > 0 ? ring : [ring[0], ring[3], ring[2], ring[1]];
		return { name: plane.name, normal: plane.normal, offset: plane.offset, origin, u, v, outline, area: du * dv };
	});
	return { block, faces, planes: flat(faces), volume: l * w * h };
}

/**
 * The stone after planes have taken pieces from it: its own faces keep names, axes and origins, also where the zero corner is
 * gone; a new face is measured from its lowest corner nearest the marked one (handbook 16).
 */
export function stoneCut(
	stone: Stone,
	cuts: readonly { readonly name: string; readonly normal: Vec3; readonly offset: number }[],
): Stone {
	if (cuts.length === 0) return stone;
	const own = stone.faces.map(({ name, normal, offset, origin, u, v }) => ({
		name,
		normal,
		offset,
		axes: { origin, u, v },
	}));
	return bounded(stone.block, [...own, ...cuts]);
}

function namedPlanes(given: Float64Array, word: string): FacePlane[] {
	const planes: FacePlane[] = [];
	for (let k = 0; k < given.length; k += 4) {
		const n: Vec3 = [given[k], given[k + 1], given[k + 2]];
		const l = length(n);
		if (!(l > 0 && Number.isFinite(l) && Number.isFinite(given[k + 3]))) {
			throw new Refusal("stone.openStone", { faces: given.length / 4 });
		}
		planes.push({ name: `${word} ${k / 4 + 1}`, normal: scale(n, 1 / l), offset: given[k + 3] / l });
	}
	return planes;
}

/** The six faces of a measured block: u along the edge that the face shares with the bed, front or left, v square to it. */
function measuredPlanes(sides: Float64Array): FacePlane[] {
	const planes = namedPlanes(sides, "side");
	return planes.map((plane, k): FacePlane => {
		const axis = k >> 1;
		const uAxis = axis === 0 ? 1 : 0;
		const vAxis = axis === 2 ? 1 : 2;
		const lowU = planes[2 * uAxis];
		const lowV = planes[2 * vAxis];
		const origin = meeting(plane, lowU, lowV);
		let u = unit(cross(plane.normal, lowV.normal));
		if (u[uAxis] < 0) u = scale(u, -1);
		let v = cross(plane.normal, u);
		if (v[vAxis] < 0) v = scale(v, -1);
		return { ...plane, name: BOX_NAMES[k], axes: { origin, u, v } };
	});
}

/** Where three planes meet. */
function meeting(a: FacePlane, b: FacePlane, c: FacePlane): Vec3 {
	const bc = cross(b.normal, c.normal);
	const det = dot(a.normal, bc);
	const at = add(
		add(scale(bc, a.offset), scale(cross(c.normal, a.normal), b.offset)),
		scale(cross(a.normal, b.normal), c.offset),
	);
	return scale(at, 1 / det);
}

const BOX_NAMES: readonly FaceName[] = ["left", "right", "front", "back", "bed", "top"];

/** The six sawn faces; u and v run along the block's axes from the corner nearest the marked one, u the earlier axis. */
function boxPlanes(size: Vec3): (FacePlane & { axes: FaceAxes })[] {
	const x: Vec3 = [1, 0, 0];
	const y: Vec3 = [0, 1, 0];
	const z: Vec3 = [0, 0, 1];
	return BOX_NAMES.map((name, k) => {
		const axis = k >> 1;
		const high = k & 1;
		const outwards = [x, y, z][axis];
		return {
			name,
			normal: high ? outwards : sub([0, 0, 0], outwards),
			offset: high * size[axis],
			axes: { origin: scale(outwards, high * size[axis]), u: axis === 0 ? y : x, v: axis === 2 ? y : z },
		};
	});
}

const flat = (planes: readonly { normal: Vec3; offset: number }[]): Float64Array =>
	Float64Array.from(planes.flatMap((p) => [...p.normal, p.offset]));

/** The stone within some planes: each face is a wide square of its plane, cut by all the others. */
function bounded(block: Block, given: readonly FacePlane[]): Stone {
	let reach = 1;
	for (const p of given) reach = Math.max(reach, Math.abs(p.offset));
	const same = SAME * reach;
	// Of faces in one plane, or one behind the other, the innermost counts.
	const planes = given.filter(
		(p, i) =>
			!given.some((q, j) => {
				if (i === j || length(sub(p.normal, q.normal)) > SAME) return false;
				return q.offset < p.offset - same || (q.offset <= p.offset + same && j < i);
			}),
	);
	// Far beyond any corner that planes of a measured stone can meet in; what still ends on this edge is open.
	const far = 1e4 * reach;
	const faces: StoneFace[] = [];
	for (const plane of planes) {
		const foot = scale(plane.normal, plane.offset);
		const a = squareTo(plane.normal);
		const b = cross(plane.normal, a);
		const signs = [
			[1, 1],
			[-1, 1],
			[-1, -1],
			[1, -1],
		];
		let ring: Vec3[] = signs.map(([s, t]) => along(along(foot, a, s * far), b, t * far));
		for (const other of planes) if (other !== plane) ring = cutOutline(ring, other.normal, other.offset);
		ring = withoutDoubles(ring, same);
		const area = outlineArea(ring, plane.normal);
		// A plane that only touches the stone along an edge or in a corner is none of its faces.
		if (ring.length < 3 || !(area > same * reach)) continue;
		if (ring.some((corner) => length(sub(corner, foot)) > far / 2)) {
			throw new Refusal("stone.openStone", { faces: given.length });
		}
		const { name, normal, offset } = plane;
		faces.push({ name, normal, offset, ...(plane.axes ?? axesOnFace(ring, normal)), outline: ring, area });
	}
	if (faces.length < 4) throw new Refusal("stone.emptyStone", { faces: given.length });
	const corner = faces[0].outline[0];
	let volume = 0;
	for (const f of faces) volume += (f.area * (f.offset - dot(f.normal, corner))) / 3;
	return { block, faces, planes: flat(faces), volume };
}

export interface Exit {
	readonly face: StoneFace;
	/** From the start along the direction, in lengths of the direction. */
	readonly distance: number;
	readonly point: Vec3;
}

/** Where a line from inside the stone comes out; null when `start` lies outside of the face that the line leaves by. */
export function exitOf(stone: Stone, start: Vec3, direction: Vec3): Exit | null {
	const { planes } = stone;
	let nearest = -1;
	let distance = Infinity;
	for (let f = 0; 4 * f < planes.length; f++) {
		const speed = planes[4 * f] * direction[0] + planes[4 * f + 1] * direction[1] + planes[4 * f + 2] * direction[2];
		if (!(speed > 0)) continue;
		const left =
			planes[4 * f + 3] - (planes[4 * f] * start[0] + planes[4 * f + 1] * start[1] + planes[4 * f + 2] * start[2]);
		if (left / speed < distance) {
			distance = left / speed;
			nearest = f;
		}
	}
	if (nearest < 0 || distance < 0) return null;
	return { face: stone.faces[nearest], distance, point: along(start, direction, distance) };
}

/** How far a place lies under the stone's skin: the least distance to a face plane, negative outside, mm. */
export function depthInStone(stone: Stone, at: Vec3): number {
	const { planes } = stone;
	let least = Infinity;
	for (let k = 0; k < planes.length; k += 4) {
		const depth = planes[k + 3] - (planes[k] * at[0] + planes[k + 1] * at[1] + planes[k + 2] * at[2]);
		if (depth < least) least = depth;
	}
	return least;
}

export const faceNamed = (stone: Stone, name: string): StoneFace | undefined =>
	stone.faces.find((f) => f.name === name);

/** The face that looks most nearly along a direction, stone frame; of equal ones the first. */
export function faceTowards(stone: Stone, direction: Vec3): StoneFace {
	let best = stone.faces[0];
	for (const face of stone.faces) if (dot(face.normal, direction) > dot(best.normal, direction)) best = face;
	return best;
}

/** u and v of a place on a face (of its foot on the face's plane when it lies off it), mm. */
export function faceCoordinates(face: StoneFace, at: Vec3): { u: number; v: number } {
	const from = sub(at, face.origin);
	return { u: dot(from, face.u), v: dot(from, face.v) };
}

/** The place on a face with these u and v. */
export const onFace = (face: StoneFace, u: number, v: number): Vec3 => along(along(face.origin, face.u, u), face.v, v);

/**
 * Leans of a line from square to a face, as tangents along u and v; positive when the line outside the stone leans towards
 * growing u or v. `line` points out of the stone; null when it runs along the face or into it.
 */
export function leansOf(face: StoneFace, line: Vec3): { u: number; v: number } | null {
	const outwards = dot(line, face.normal);
	if (!(outwards > 0)) return null;
	return { u: dot(line, face.u) / outwards, v: dot(line, face.v) / outwards };
}

/** The unit line that leaves a face with these tangents of its leans: the inverse of `leansOf`. */
export const lineWithLeans = (face: StoneFace, u: number, v: number): Vec3 =>
	unit(along(along(face.normal, face.u, u), face.v, v));

/** Bounds of the stone's corners, mm. */
export function boundsOfStone(stone: Stone): { min: Vec3; max: Vec3 } {
	const min: [number, number, number] = [Infinity, Infinity, Infinity];
	const max: [number, number, number] = [-Infinity, -Infinity, -Infinity];
	for (const { outline } of stone.faces)
		for (const corner of outline)
			for (let k = 0; k < 3; k++) {
				min[k] = Math.min(min[k], corner[k]);
				max[k] = Math.max(max[k], corner[k]);
			}
	return { min, max };
}

/** The same offcut in a frame whose origin lies at −by: every place x becomes x + by. */
export function movedStone(stone: Stone, by: Vec3): Stone {
	const planes = stone.planes.slice();
	for (let k = 0; k < planes.length; k += 4)
		planes[k + 3] += planes[k] * by[0] + planes[k + 1] * by[1] + planes[k + 2] * by[2];
	return stoneOf({ kind: "planes", planes });
}
