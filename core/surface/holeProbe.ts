/** A hole against the whole surface: how far along its line the tip may go, and how far from it the surface lies. */

import type { Vec3 } from "../vector.ts";
import { LineFrame } from "./lineFrame.ts";
import { coreOf, offCore, triangleOffCore } from "./solidDistance.ts";
import { BestTouch, touchTriangle } from "./solidTouch.ts";
import type { SurfaceIndex } from "./surfaceIndex.ts";
import { capReach, type SweptSolid } from "./sweptSolid.ts";
import { NODE_COUNT, NODE_LINK, NODE_WORDS, STACK_NODES } from "./triangleTree.ts";

/** Where the surface limits the tip. */
export interface Touch {
	/** Least x of the tip at which nothing is touched, push included; the value handed in when nothing reaches it. */
	tip: number;
	/** Index into the mesh's triangles; −1 when nothing reaches the value handed in. */
	triangle: number;
	/** Which of the solids touches. */
	solid: number;
	/** The touching place, frame of the mesh. */
	x: number;
	y: number;
	z: number;
}

export const newTouch = (): Touch => ({ tip: 0, triangle: -1, solid: 0, x: 0, y: 0, z: 0 });

export interface HoleProbe {
	/** Sets the line: a place in the frame of the mesh and a unit direction. */
	setLine(origin: Vec3, direction: Vec3): void;
	/** Sets one solid, or two of which the one that asks for more counts. */
	setSolids(first: SweptSolid, second?: SweptSolid): void;
	/** Greatest tip value over the surface, among those over `floor`. Exact to 1e-8 mm. */
	touch(floor: number, into: Touch): Touch;
	/** Some place of the surface with a tip value over `floor`, one that stands well within the hole, or none. */
	anyTouch(floor: number, into: Touch): Touch;
	/**
	 * Least distance from the first solid, which must not widen, to the surface with its tip at x = tip; 0 where it touches.
	 * Exact to 1e-8 mm. Triangles that are 1 in `spared` do not count: those that the hole is meant to run out through.
	 */
	clearance(tip: number, spared?: Uint8Array): number;
}

/**
 * Where any touching place will do, boxes near the line and near its start are tried first, a mm aside weighing as much as
 * 50 mm along: such places block the most neighbouring lines.
 */
const NEARER = 0.02;

/** A probe over one surface; it holds scratch, so each thread needs its own. */
export function createHoleProbe(index: SurfaceIndex): HoleProbe {
	const { positions, triangles } = index.mesh;
	const { bounds, words, order } = index.tree;
	const stack = new Int32Array(STACK_NODES);
	const stackBound = new Float64Array(STACK_NODES);
	const frame = new LineFrame();
	const best = new BestTouch();
	let solids: readonly SweptSolid[] = [];
	let spared: Uint8Array | null = null;
	const scratch = newTouch();

	/** No place in the box of the node gives more than this. */
	const nodeBound = (node: number): number => {
		frame.measureNode(bounds, node * NODE_WORDS);
		const { low, high, rho } = frame;
		let most = Number.NEGATIVE_INFINITY;
		for (let s = 0; s < solids.length; s++) {
			const solid = solids[s];
			const reach = capReach(solid, rho + solid.widening * low - solid.wider) + solid.push;
			if (reach > most) most = reach;
		}
		return high + most;
	};

	const walk = (floor: number, any: boolean, into: Touch): Touch => {
		best.tip = floor;
		best.triangle = -1;
		stack[0] = 0;
		stackBound[0] = nodeBound(0);
		let depth = 1;
		pop: while (depth > 0) {
			depth--;
			if (stackBound[depth] <= best.tip) continue;
			let node = stack[depth];
			let count = words[node * NODE_WORDS + NODE_COUNT];
			while (count === 0) {
				let first = node + 1;
				let other = words[node * NODE_WORDS + NODE_LINK];
				let bound = nodeBound(first);
				const aside = frame.rho + NEARER * frame.low;
				let otherBound = nodeBound(other);
				const otherAside = frame.rho + NEARER * frame.low;
				const swap = any ? bound <= best.tip || (otherBound > best.tip && otherAside < aside) : otherBound > bound;
				if (swap) {
					const n = first;
					first = other;
					other = n;
					const v = bound;
					bound = otherBound;
					otherBound = v;
				}
				if (bound <= best.tip) continue pop;
				if (otherBound > best.tip) {
					stack[depth] = other;
					stackBound[depth] = otherBound;
					depth++;
				}
				node = first;
				count = words[node * NODE_WORDS + NODE_COUNT];
			}
			const from = words[node * NODE_WORDS + NODE_LINK];
			for (let i = from; i < from + count; i++) {
				if (spared !== null && spared[order[i]] === 1) continue;
				frame.takeTriangle(positions, triangles, order[i]);
				for (let s = 0; s < solids.length; s++) touchTriangle(frame, solids[s], s, order[i], best);
			}
			if (any && best.triangle >= 0) break;
		}
		into.tip = best.tip;
		into.triangle = best.triangle;
		into.solid = best.solid;
		frame.toMesh(best.x, best.y, best.z, into);
		return into;
	};

	const clearanceOf = (tip: number): number => {
		const [solid] = solids;
		solids = [solid];
		if (walk(tip, true, scratch).triangle >= 0) return 0;
		const core = coreOf(solid, tip);
		let least = Number.POSITIVE_INFINITY;
		stack[0] = 0;
		stackBound[0] = 0;
		let depth = 1;
		pop: while (depth > 0) {
			depth--;
			if (stackBound[depth] >= least) continue;
			let node = stack[depth];
			let count = words[node * NODE_WORDS + NODE_COUNT];
			while (count === 0) {
				let near = node + 1;
				let far = words[node * NODE_WORDS + NODE_LINK];
				frame.measureNode(bounds, near * NODE_WORDS);
				let nearBound = offCore(core, frame.high, frame.rho);
				frame.measureNode(bounds, far * NODE_WORDS);
				let farBound = offCore(core, frame.high, frame.rho);
				if (farBound < nearBound) {
					const n = near;
					near = far;
					far = n;
					const v = nearBound;
					nearBound = farBound;
					farBound = v;
				}
				if (nearBound >= least) continue pop;
				if (farBound < least) {
					stack[depth] = far;
					stackBound[depth] = farBound;
					depth++;
				}
				node = near;
				count = words[node * NODE_WORDS + NODE_COUNT];
			}
			const from = words[node * NODE_WORDS + NODE_LINK];
			for (let i = from; i < from + count; i++) {
				if (spared !== null && spared[order[i]] === 1) continue;
				frame.takeTriangle(positions, triangles, order[i]);
				least = triangleOffCore(frame, core, least);
			}
		}
		return Math.max(0, least - solid.rounding);
	};

	const clearance = (tip: number, leftOut?: Uint8Array): number => {
		spared = leftOut ?? null;
		const least = clearanceOf(tip);
		spared = null;
		return least;
	};

	return {
		setLine: (origin, direction) => frame.set(origin, direction),
		setSolids: (first, second) => {
			solids = second ? [first, second] : [first];
		},
		touch: (floor, into) => walk(floor, false, into),
		anyTouch: (floor, into) => walk(floor, true, into),
		clearance,
	};
}
