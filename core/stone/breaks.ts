/** A block with corners and edges broken off, described as it is measured in the yard. */
import type { FaceName } from "../plan/commission.ts";
import { Refusal } from "../refusal.ts";
import { along, cross, dot, length, sub, type Vec3 } from "../vector.ts";
import type { Block } from "./block.ts";
import { FACES_ALONG } from "./fitBlock.ts";

export type Break =
	/**
	 * A corner (three faces that meet) or an edge (two): how far the break reaches from each face square into the block, mm,
	 * which for a corner is along each of its three edges.
	 */
	| { readonly kind: "off"; readonly faces: readonly FaceName[]; readonly reach: readonly number[] }
	/** Any flat break through three places on it (stone frame); the side with the block's middle is kept. */
	| { readonly kind: "plane"; readonly through: readonly [Vec3, Vec3, Vec3] };

/** A corner of a triangle nearer to the line of the other two than this share of its longest side says no direction. */
const SLIM = 1e-6;

/**
 * The stone of a sawn block with sides `size` (mm) after its breaks. Refuses faces that do not meet, distances that are not
 * within the block, and three places that give no plane or one through the block's middle.
 */
export function brokenBlock(size: Vec3, breaks: readonly Break[]): Block {
	const square = new Float64Array(24);
	size.forEach((side, axis) => {
		square[8 * axis + axis] = -1;
		square[8 * axis + 4 + axis] = 1;
		square[8 * axis + 7] = side;
	});
	return { kind: "broken", size, planes: breakPlanes(square, size, breaks) };
}

/** The same for a block of six measured planes (left, right, front, back, bed, top) with about these sides. */
export const brokenMeasured = (sides: Float64Array, size: Vec3, breaks: readonly Break[]): Block => ({
	kind: "measured",
	sides,
	planes: breakPlanes(sides, size, breaks),
});

function breakPlanes(sides: Float64Array, size: Vec3, breaks: readonly Break[]): Float64Array {
	return Float64Array.from(
		breaks.flatMap((broken, k) =>
			broken.kind === "off" ? offPlane(sides, size, broken, k + 1) : throughPlane(size, broken.through, k + 1),
		),
	);
}

/**
 * Stone is kept where the sum over the faces of (distance from the face ÷ what that distance is at its reach) is at least 1:
 * along the edge that leaves the face for a corner, along the other face and square to the edge for an edge.
 */
function offPlane(sides: Float64Array, size: Vec3, broken: Extract<Break, { kind: "off" }>, number: number): number[] {
	const { faces, reach } = broken;
	let normal: Vec3 = [0, 0, 0];
	let offset = -1;
	const axes = new Set<number>();
	if (faces.length < 2 || faces.length > 3 || reach.length !== faces.length) {
		throw new Refusal("stone.breakFaces", { number, faces });
	}
	const places = faces.map((face) => {
		const axis = FACES_ALONG.findIndex((pair) => pair.includes(face));
		if (axes.has(axis)) throw new Refusal("stone.breakFaces", { number, faces });
		axes.add(axis);
		return 2 * axis + (FACES_ALONG[axis][1] === face ? 1 : 0);
	});
	const normals = places.map((k): Vec3 => [sides[4 * k], sides[4 * k + 1], sides[4 * k + 2]]);
	faces.forEach((face, k) => {
		const side = size[places[k] >> 1];
		if (!(reach[k] > 0 && reach[k] < side)) {
			throw new Refusal("stone.breakReach", { number, face, found: reach[k], side });
		}
		const others = normals.filter((_, j) => j !== k);
		const edge = others.length === 2 ? cross(others[0], others[1]) : cross(cross(others[0], normals[k]), others[0]);
		const square = Math.abs(dot(edge, normals[k])) / length(edge);
		// Distance from the face: b − n · x.
		normal = along(normal, normals[k], 1 / (reach[k] * square));
		offset += sides[4 * places[k] + 3] / (reach[k] * square);
	});
	return [...normal, offset];
}

function throughPlane(size: Vec3, [a, b, c]: readonly [Vec3, Vec3, Vec3], number: number): number[] {
	const u = sub(b, a);
	const v = sub(c, a);
	const normal = cross(u, v);
	const longest = Math.max(length(u), length(v), length(sub(c, b)));
	if (!(length(normal) > SLIM * longest * longest)) throw new Refusal("stone.breakLine", { number });
	const offset = dot(normal, a);
	const middle = dot(normal, [size[0] / 2, size[1] / 2, size[2] / 2]);
	if (Math.abs(middle - offset) <= SLIM * length(normal) * longest) throw new Refusal("stone.breakMiddle", { number });
	return middle < offset ? [...normal, offset] : [-normal[0], -normal[1], -normal[2], -offset];
}
