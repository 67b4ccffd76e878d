/**
 * Leaves out doubled triangles without opening the surface.
 *
 * An edge is in balance when it is run equally often in both directions; a mesh is closed when every edge is. Of each set of
 * triangles on the same three vertices the opposed ones cancel each other and change no balance when they go together. What
 * is left of a set runs one way; of that one stays, and more than one only where the surface is closed by them (a sheet that
 * is passed twice). Of a set that cancels altogether one triangle stays where the surface has a hole without it.
 */

import { type Job, within } from "../job.ts";
import { findDoubled } from "./doubled.ts";
import { type Edges, edgeCount, fromVertex, SLICE, sortEdges, toVertex, triangleOf } from "./edges.ts";
import { areaBetween } from "./measures.ts";
import { type TriangleMesh, triangleCount, vertexCount } from "./mesh.ts";

/** A piece written with two sides is a surface of its own from this share of the area on; below it is a flake. */
const SURFACE_SHARE = 0.01;
const STAGE = "leaving out doubled triangles";

export interface WithoutDoubled {
	/** 1 for the triangles that stay. */
	readonly keep: Uint8Array;
	/** Triangles with the three vertices of an earlier one, before and after. */
	readonly before: number;
	readonly after: number;
}

/** The mesh as the steps below see it. A set is known by its first triangle. */
interface Sets {
	readonly mesh: TriangleMesh;
	readonly edges: Edges;
	/** Edge of each half-edge. */
	readonly edgeOf: Uint32Array;
	readonly firstOf: Uint32Array;
	/** First triangles of the sets of more than one. */
	readonly several: Uint32Array;
	/** Of each edge the runs from its lower to its higher vertex less those the other way, as far as triangles stay. */
	readonly balance: Int32Array;
	/** How often the first triangle of each set stays; negative: a triangle that runs against it. */
	readonly stay: Int32Array;
}

export function* withoutDoubled(mesh: TriangleMesh): Job<WithoutDoubled> {
	const n = triangleCount(mesh);
	const edges = yield* within(sortEdges(mesh.triangles, vertexCount(mesh)), 0, 0.5);
	const { firstOf, against } = yield* within(findDoubled(mesh.triangles, edges), 0.5, 0.7);
	const size = new Uint32Array(n);
	const stay = new Int32Array(n);
	let before = 0;
	for (let t = 0; t < n; t++) {
		size[firstOf[t]]++;
		stay[firstOf[t]] += against[t] === 1 ? -1 : 1;
		if (firstOf[t] !== t) before++;
	}
	const keep = new Uint8Array(n).fill(1);
	if (before === 0) return { keep, before, after: 0 };
	const several = firstOf.filter((first, t) => first === t && size[t] > 1);
	const { edgeOf, balance } = yield* within(balances(mesh.triangles, edges), 0.7, 0.8);
	const sets: Sets = { mesh, edges, edgeOf, firstOf, several, balance, stay };
	yield* within(keepTwoSided(sets), 0.8, 0.88);
	yield* within(dropRepeated(sets), 0.88, 0.96);
	yield* within(fillFromCancelled(sets), 0.96, 1);
	const left = stay.slice();
	let after = 0;
	for (const first of several) after += Math.max(0, Math.abs(stay[first]) - 1);
	for (let t = 0; t < n; t++) {
		const first = firstOf[t];
		if (size[first] === 1) continue;
		const way = against[t] === 1 ? -1 : 1;
		keep[t] = left[first] * way > 0 ? 1 : 0;
		if (keep[t] === 1) left[first] -= way;
	}
	return { keep, before, after };
}

/** +1 for a half-edge from its lower to its higher vertex, −1 for the other way. */
const way = (triangles: Uint32Array, h: number): number => (fromVertex(triangles, h) < toVertex(triangles, h) ? 1 : -1);

function* balances(triangles: Uint32Array, edges: Edges): Job<Pick<Sets, "edgeOf" | "balance">> {
	const edgeOf = new Uint32Array(triangles.length);
	const count = edgeCount(edges);
	const balance = new Int32Array(count);
	for (let from = 0; from < count; from += SLICE) {
		for (let e = from; e < Math.min(from + SLICE, count); e++)
			for (let i = edges.start[e]; i < edges.start[e + 1]; i++) {
				const h = edges.halfEdges[i];
				edgeOf[h] = e;
				balance[e] += way(triangles, h);
			}
		yield { stage: STAGE, share: from / count };
	}
	return { edgeOf, balance };
}

/** Has the triangle stay `by` times more (fewer below 0). */
function change({ mesh: { triangles }, edgeOf, balance, stay }: Sets, t: number, by: number): void {
	stay[t] += by;
	for (let h = 3 * t; h < 3 * t + 3; h++) balance[edgeOf[h]] += by * way(triangles, h);
}

/** How far the edges of a triangle are out of balance, in all. */
const outOfBalance = ({ edgeOf, balance }: Sets, t: number): number =>
	Math.abs(balance[edgeOf[3 * t]]) + Math.abs(balance[edgeOf[3 * t + 1]]) + Math.abs(balance[edgeOf[3 * t + 2]]);

/** How many times more than once a set stays, with its sign. */
const surplus = (stay: number): number => stay - Math.sign(stay);

/**
 * A surface written with two sides, of which the first stays: sets that cancel and hang on to nothing else, where they are no
 * mere flake. It is open afterwards, as a surface with one side is.
 */
function* keepTwoSided(sets: Sets): Job<void> {
	const { mesh, edges, edgeOf, firstOf, several, stay } = sets;
	const { positions: p, triangles } = mesh;
	const areaOf = (t: number): number => areaBetween(p, triangles[3 * t], triangles[3 * t + 1], triangles[3 * t + 2]);
	const cancels = marked(
		sets,
		several.filter((t) => stay[t] === 0),
	);
	let all = 0;
	for (let t = 0; t < firstOf.length; t++) if (firstOf[t] === t) all += areaOf(t);
	const alone = (t: number): boolean => {
		for (let h = 3 * t; h < 3 * t + 3; h++)
			for (let i = edges.start[edgeOf[h]]; i < edges.start[edgeOf[h] + 1]; i++)
				if (cancels[firstOf[triangleOf(edges.halfEdges[i])]] === 0) return false;
		return true;
	};
	for (const group of yield* groupsOf(sets, cancels)) {
		if (!group.every(alone)) continue;
		if (group.reduce((sum, t) => sum + areaOf(t), 0) >= SURFACE_SHARE * all) for (const t of group) change(sets, t, 1);
	}
}

/**
 * Of a set that stays more than once all but one go, where that leaves its edges no farther out of balance: first of all sets
 * that hang together (a surface that is there twice), then of each alone.
 */
function* dropRepeated(sets: Sets): Job<void> {
	const { several, stay, balance, edgeOf } = sets;
	const repeated = several.filter((t) => Math.abs(stay[t]) > 1);
	const counted = new Uint8Array(balance.length);
	/** Over the edges of a group, each once. */
	const sum = (group: Uint32Array): number => {
		let all = 0;
		for (const t of group)
			for (let h = 3 * t; h < 3 * t + 3; h++) {
				if (counted[edgeOf[h]] === 1) continue;
				counted[edgeOf[h]] = 1;
				all += Math.abs(balance[edgeOf[h]]);
			}
		for (const t of group) for (let h = 3 * t; h < 3 * t + 3; h++) counted[edgeOf[h]] = 0;
		return all;
	};
	for (const group of yield* groupsOf(sets, marked(sets, repeated))) {
		const before = sum(group);
		const extra = Int32Array.from(group, (t) => surplus(stay[t]));
		for (const [i, t] of group.entries()) change(sets, t, -extra[i]);
		if (sum(group) > before) for (const [i, t] of group.entries()) change(sets, t, extra[i]);
	}
	for (const t of repeated) {
		const extra = surplus(stay[t]);
		if (extra === 0) continue;
		const before = outOfBalance(sets, t);
		change(sets, t, -extra);
		if (outOfBalance(sets, t) > before) change(sets, t, extra);
	}
}

/** Of a set that cancels, one triangle stays where its edges are then more in balance: it closes a hole. */
function* fillFromCancelled(sets: Sets): Job<void> {
	for (const [i, t] of sets.several.entries()) {
		if (i % SLICE === SLICE - 1) yield { stage: STAGE, share: i / sets.several.length };
		if (sets.stay[t] !== 0) continue;
		const before = outOfBalance(sets, t);
		for (const side of [1, -1]) {
			change(sets, t, side);
			if (outOfBalance(sets, t) < before) break;
			change(sets, t, -side);
		}
	}
}

function marked({ firstOf }: Sets, some: Uint32Array): Uint8Array {
	const marks = new Uint8Array(firstOf.length);
	for (const t of some) marks[t] = 1;
	return marks;
}

/** Marked sets that hang together over edges, by their first triangles. */
function* groupsOf({ edges, edgeOf, firstOf, several }: Sets, marks: Uint8Array): Job<Uint32Array[]> {
	const left = marks.slice();
	const queue = new Uint32Array(several.length);
	const groups: Uint32Array[] = [];
	let looked = 0;
	for (const first of several) {
		if (left[first] === 0) continue;
		left[first] = 0;
		queue[0] = first;
		let end = 1;
		for (let at = 0; at < end; at++) {
			if (++looked % SLICE === 0) yield { stage: STAGE, share: looked / several.length };
			for (let h = 3 * queue[at]; h < 3 * queue[at] + 3; h++)
				for (let i = edges.start[edgeOf[h]]; i < edges.start[edgeOf[h] + 1]; i++) {
					const other = firstOf[triangleOf(edges.halfEdges[i])];
					if (left[other] === 0) continue;
					left[other] = 0;
					queue[end++] = other;
				}
		}
		groups.push(queue.slice(0, end));
	}
	return groups;
}
