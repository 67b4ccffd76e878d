/** Veins, cracks and inclusions as planes with a thickness: where they cross the placed figure, and what lies near (handbook 10). */
import type { Job } from "../job.ts";
import { Refusal } from "../refusal.ts";
import type { TriangleMesh } from "../scan/mesh.ts";
import { cross, dot, length, type Placement, place, scale, sub, turnBack, type Vec3 } from "../vector.ts";

/** A flaw in the stone frame: |n · x − offset| ≤ half. */
export interface Flaw {
	readonly name: string;
	/** Unit. */
	readonly normal: Vec3;
	readonly offset: number;
	/** Half of its thickness, mm. */
	readonly half: number;
}

/** A corner of the triangle nearer to the line of the other two than this share of its longest side says no direction. */
const SLIM = 1e-6;

/** The plane through three places, stone frame. Refuses places on one line. */
export function flawThrough(name: string, [a, b, c]: readonly [Vec3, Vec3, Vec3], thickness: number): Flaw {
	const across = cross(sub(b, a), sub(c, a));
	const longest = Math.max(length(sub(b, a)), length(sub(c, a)), length(sub(c, b)));
	if (!(length(across) > SLIM * longest * longest)) throw new Refusal("stone.flawLine", { name });
	const normal = scale(across, 1 / length(across));
	return { name, normal, offset: dot(normal, a), half: thickness / 2 };
}

/** The same plane in the model frame of a placed figure. */
export const flawInModel = ({ normal, offset, ...rest }: Flaw, placement: Placement): Flaw => ({
	...rest,
	normal: turnBack(placement.rotation, normal),
	offset: offset - dot(normal, placement.translation),
});

/** From the flaw's skin to a place of the model, mm; negative inside the flaw. */
export const fromFlaw = (flaw: Flaw, placement: Placement, at: Vec3): number =>
	Math.abs(dot(flaw.normal, place(placement, at)) - flaw.offset) - flaw.half;

/** One part of the figure that a plane cuts through. */
export interface Section {
	/** mm²; of an open shell that the plane cuts open, no area. */
	readonly area: number | null;
	/** Mean of its outline, model frame. */
	readonly middle: Vec3;
	/** Places along its outline with the outward normal of the surface there, model frame. */
	readonly outline: readonly { readonly position: Vec3; readonly normal: Vec3 }[];
}

/** Places of an outline that are kept. */
const MOST_PLACES = 160;
/** Triangles gone through between two yields. */
const SLICE = 200_000;

/** The sections of a figure with the plane n · x = offset (model frame), the largest first. */
export function* sectionsOf(mesh: TriangleMesh, normal: Vec3, offset: number): Job<Section[]> {
	const { positions, triangles } = mesh;
	/** Pieces of outline: from edge to edge of the mesh, each with its two ends. */
	const from = new Map<number, number>();
	const ends: number[] = [];
	const keys: number[] = [];
	const outward: number[] = [];
	const vertices = positions.length / 3;
	const height = (v: number): number =>
		normal[0] * positions[3 * v] + normal[1] * positions[3 * v + 1] + normal[2] * positions[3 * v + 2] - offset;
	const crossing = (a: number, b: number): Vec3 => {
		// From the lower number on, so that both triangles of an edge find the same place to the bit.
		const [p, q] = a < b ? [a, b] : [b, a];
		const s = height(p) / (height(p) - height(q));
		return [0, 1, 2].map(
			(k) => positions[3 * p + k] + s * (positions[3 * q + k] - positions[3 * p + k]),
		) as unknown as Vec3;
	};
	const keyOf = (a: number, b: number): number => (a < b ? a * vertices + b : b * vertices + a);
	for (let t = 0; t < triangles.length; t += 3) {
		if (t % (3 * SLICE) === 0) yield { stage: "following the flaws through the figure", share: t / triangles.length };
		const corners = [triangles[t], triangles[t + 1], triangles[t + 2]];
		// A corner in the plane counts as above it, so that every outline runs through edges alone.
		const above = corners.map((v) => height(v) >= 0);
		if (above[0] === above[1] && above[1] === above[2]) continue;
		// Counter-clockwise round the stone of the figure, seen against the normal's direction: from where it goes down to where it comes up.
		let down = 0;
		let up = 0;
		for (let i = 0; i < 3; i++) {
			const j = (i + 1) % 3;
			if (above[i] && !above[j]) down = i;
			if (!above[i] && above[j]) up = i;
		}
		const start = [corners[down], corners[(down + 1) % 3]] as const;
		const end = [corners[up], corners[(up + 1) % 3]] as const;
		const a = crossing(...start);
		const b = crossing(...end);
		const [p, q, r] = corners.map((v): Vec3 => [positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]]);
		from.set(keyOf(...start), keys.length / 2);
		keys.push(keyOf(...start), keyOf(...end));
		ends.push(...a, ...b);
		const n = cross(sub(q, p), sub(r, p));
		const l = length(n) || 1;
		outward.push(n[0] / l, n[1] / l, n[2] / l);
	}
	const done = new Uint8Array(keys.length / 2);
	const sections: Section[] = [];
	for (let first = 0; first < done.length; first++) {
		if (done[first]) continue;
		const pieces: number[] = [];
		let at: number | undefined = first;
		while (at !== undefined && !done[at]) {
			done[at] = 1;
			pieces.push(at);
			at = from.get(keys[2 * at + 1]);
		}
		sections.push(sectionOf(pieces, at === first, ends, outward, normal));
	}
	return withHoles(sections, normal);
}

function sectionOf(
	pieces: readonly number[],
	closed: boolean,
	ends: readonly number[],
	outward: readonly number[],
	normal: Vec3,
): Section {
	const o: Vec3 = [ends[6 * pieces[0]], ends[6 * pieces[0] + 1], ends[6 * pieces[0] + 2]];
	let area = 0;
	let middle: Vec3 = [0, 0, 0];
	let whole = 0;
	const outline: { position: Vec3; normal: Vec3 }[] = [];
	const every = Math.ceil(pieces.length / MOST_PLACES);
	pieces.forEach((piece, i) => {
		const a = sub([ends[6 * piece], ends[6 * piece + 1], ends[6 * piece + 2]], o);
		const b = sub([ends[6 * piece + 3], ends[6 * piece + 4], ends[6 * piece + 5]], o);
		area += dot(cross(a, b), normal) / 2;
		const l = length(sub(b, a));
		whole += l;
		middle = [0, 1, 2].map((k) => middle[k] + (l * (a[k] + b[k])) / 2) as unknown as Vec3;
		if (i % every === 0)
			outline.push({
				position: [0, 1, 2].map((k) => o[k] + (a[k] + b[k]) / 2) as unknown as Vec3,
				normal: [outward[3 * piece], outward[3 * piece + 1], outward[3 * piece + 2]],
			});
	});
	const at = whole > 0 ? ([0, 1, 2].map((k) => o[k] + middle[k] / whole) as unknown as Vec3) : o;
	return { area: closed ? area : null, middle: at, outline };
}

/** Outlines that run the other way round are holes: their area comes off the section they lie in. */
function withHoles(sections: readonly Section[], normal: Vec3): Section[] {
	const outer = sections.filter((s) => s.area === null || s.area > 0).map((s) => ({ ...s }));
	outer.sort((a, b) => (b.area ?? 0) - (a.area ?? 0));
	for (const hole of sections) {
		if (hole.area === null || hole.area > 0) continue;
		// The smallest section around it.
		let around = -1;
		outer.forEach((one, i) => {
			if (one.area !== null && -(hole.area as number) < one.area && encloses(one, hole.outline[0].position, normal))
				around = i;
		});
		if (around >= 0) outer[around] = { ...outer[around], area: (outer[around].area as number) + hole.area };
	}
	return outer;
}

/** Whether an outline's kept places run round a place of its plane: a ray within the plane meets them an odd number of times. */
function encloses({ outline }: Section, at: Vec3, normal: Vec3): boolean {
	const ax = Math.abs(normal[0]);
	const ay = Math.abs(normal[1]);
	const az = Math.abs(normal[2]);
	// The two coordinates in which the plane is seen largest.
	const [u, v] = ax >= ay && ax >= az ? [1, 2] : ay >= az ? [0, 2] : [0, 1];
	let odd = false;
	for (let i = 0; i < outline.length; i++) {
		const a = outline[i].position;
		const b = outline[(i + 1) % outline.length].position;
		if (a[v] > at[v] === b[v] > at[v]) continue;
		if (at[u] < a[u] + ((at[v] - a[v]) / (b[v] - a[v])) * (b[u] - a[u])) odd = !odd;
	}
	return odd;
}
