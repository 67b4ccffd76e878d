/** A block with corners and edges broken off, described as it is measured in the yard. */
import type { FaceName } from "../plan/commission.ts";
import { Refusal } from "../refusal.ts";
import { cross, dot, length, sub, type Vec3 } from "../vector.ts";
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
 * The stone of a block with sides `size` (mm) after its breaks. Refuses faces that do not meet, distances that are not
 * within the block, and three places that give no plane or one through the block's middle.
 */
export function brokenBlock(size: Vec3, breaks: readonly Break[]): Block {
	const planes = breaks.flatMap((broken, k) =>
		broken.kind === "off" ? offPlane(size, broken, k + 1) : throughPlane(size, broken.through, k + 1),
	);
	return { kind: "broken", size, planes: Float64Array.from(planes) };
}

/** Stone is kept where the sum of distance from face ÷ reach is at least 1. */
function offPlane(size: Vec3, broken: Extract<Break, { kind: "off" }>, number: number): number[] {
	const { faces, reach } = broken;
	const normal = [0, 0, 0];
	let offset = -1;
	const axes = new Set<number>();
	if (faces.length < 2 || faces.length > 3 || reach.length !== faces.length) {
		throw new Refusal("stone.breakFaces", { number, faces });
	}
	faces.forEach((face, k) => {
		const axis = FACES_ALONG.findIndex((pair) => pair.includes(face));
		if (axes.has(axis)) throw new Refusal("stone.breakFaces", { number, faces });
		axes.add(axis);
		if (!(reach[k] > 0 && reach[k] < size[axis])) {
			throw new Refusal("stone.breakReach", { number, face, found: reach[k], side: size[axis] });
		}
		const far = FACES_ALONG[axis][1] === face;
		// From a far face the distance is side − x, from a near one x.
		normal[axis] = (far ? 1 : -1) / reach[k];
		if (far) offset += size[axis] / reach[k];
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
