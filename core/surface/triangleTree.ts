/**
 * The tree of boxes over a mesh's triangles, on which every question to the surface is answered.
 *
 * The boxes come from three-mesh-bvh (its builder, halving at the middle of the longest side), chunk by chunk, so that a
 * large scan can be cancelled on the way; the upper levels, down to the chunks, are split the same way here. The nodes are
 * then copied into two flat arrays of our own layout, because the questions that drilling asks (a hole against a scan) are
 * walked by hand: the library's callbacks would cost more than the arithmetic between them.
 */

import { BufferAttribute, BufferGeometry } from "three";
import { MeshBVH } from "three-mesh-bvh";
import type { Job } from "../job.ts";
import type { TriangleMesh } from "../scan/mesh.ts";

/** 32-bit words of a node: six bounds (min x, y, z, max x, y, z as floats), link, count. */
export const NODE_WORDS = 8;
export const NODE_LINK = 6;
export const NODE_COUNT = 7;
/** Deeper than any tree that the builder makes (40 levels under a chunk, at most 20 above). */
export const STACK_NODES = 128;

const CHUNK_TRIANGLES = 16384;
/** Triangles gone through between two yields where each costs a few nanoseconds. */
const SLICE_TRIANGLES = 262144;
const LEAF_TRIANGLES = 8;
/** Eight units in the last place of a 32-bit float, as a share of the number. */
const ROUNDING = 1 / 2097152;
/** The builder's mark of a leaf: the upper half of a node's last word; the lower half is the count. */
const LEAF_MARK = 0xffff;

/**
 * Nodes in depth-first order. Word `count` is 0 for an inner node, whose left child is the next node and whose right child
 * is node `link`; for a leaf it is the number of triangles, which stand in `order` from place `link` on.
 */
export interface TriangleTree {
	readonly bounds: Float32Array;
	/** The same memory, read as whole numbers. */
	readonly words: Uint32Array;
	/** Triangles of the caller's mesh in the order of the leaves. */
	readonly order: Uint32Array;
}

interface Branch {
	readonly left: Branch | Chunk;
	readonly right: Branch | Chunk;
}
interface Chunk {
	/** First place in `order`. */
	readonly from: number;
	readonly nodes: ArrayBuffer;
}

/** Builds the tree. The mesh is read, never changed; it has at least one triangle (intake refuses scans that have none). */
export function* buildTriangleTree(mesh: TriangleMesh): Job<TriangleTree> {
	const stage = "indexing the surface";
	const count = mesh.triangles.length / 3;
	if (count === 0) throw new Error("a mesh without triangles has no surface to index");
	const order = new Uint32Array(count);
	for (let i = 0; i < count; i++) order[i] = i;
	const middles = new Float32Array(mesh.triangles.length);
	for (let from = 0; from < count; from += SLICE_TRIANGLES) {
		sumCorners(mesh, middles, from, Math.min(count, from + SLICE_TRIANGLES));
		yield { stage, share: (0.05 * from) / count };
	}

	const position = new BufferAttribute(mesh.positions, 3);
	let done = 0;
	let nodeTotal = 0;
	const grow = function* (from: number, to: number): Job<Branch | Chunk> {
		if (to - from > CHUNK_TRIANGLES) {
			const half = splitInTwo(order, middles, from, to);
			yield { stage, share: 0.05 + (0.85 * done) / count };
			const left = yield* grow(from, half);
			const right = yield* grow(half, to);
			nodeTotal++;
			return { left, right };
		}
		const nodes = chunkNodes(mesh, position, order, from, to);
		nodeTotal += nodes.byteLength / (4 * NODE_WORDS);
		done += to - from;
		yield { stage, share: 0.05 + (0.85 * done) / count };
		return { from, nodes };
	};
	const root = yield* grow(0, count);

	const words = new Uint32Array(nodeTotal * NODE_WORDS);
	const bounds = new Float32Array(words.buffer);
	let used = 0;
	const lay = function* (part: Branch | Chunk): Job<void> {
		if ("nodes" in part) {
			copyChunk(part, words, bounds, used);
			used += part.nodes.byteLength / (4 * NODE_WORDS);
			yield { stage, share: 0.9 + (0.1 * used) / nodeTotal };
			return;
		}
		const at = used * NODE_WORDS;
		used++;
		const left = used * NODE_WORDS;
		yield* lay(part.left);
		const right = used * NODE_WORDS;
		words[at + NODE_LINK] = used;
		yield* lay(part.right);
		for (let i = 0; i < 3; i++) {
			bounds[at + i] = Math.min(bounds[left + i], bounds[right + i]);
			bounds[at + 3 + i] = Math.max(bounds[left + 3 + i], bounds[right + 3 + i]);
		}
	};
	yield* lay(root);
	return { bounds, words, order };
}

/** Three times the middle of each triangle of a range, x, y, z in turn: where it is sorted to. */
function sumCorners({ positions, triangles }: TriangleMesh, sums: Float32Array, from: number, to: number): void {
	for (let i = 3 * from; i < 3 * to; i += 3) {
		const a = 3 * triangles[i];
		const b = 3 * triangles[i + 1];
		const c = 3 * triangles[i + 2];
		sums[i] = positions[a] + positions[b] + positions[c];
		sums[i + 1] = positions[a + 1] + positions[b + 1] + positions[c + 1];
		sums[i + 2] = positions[a + 2] + positions[b + 2] + positions[c + 2];
	}
}

const least = new Float64Array(3);
const most = new Float64Array(3);

/** Sorts a range of triangles to either side of the middle of its longest extent, and says where the second half begins. */
function splitInTwo(order: Uint32Array, middles: Float32Array, from: number, to: number): number {
	least.fill(Number.POSITIVE_INFINITY);
	most.fill(Number.NEGATIVE_INFINITY);
	for (let i = from; i < to; i++) {
		const at = 3 * order[i];
		for (let axis = 0; axis < 3; axis++) {
			const m = middles[at + axis];
			if (m < least[axis]) least[axis] = m;
			if (m > most[axis]) most[axis] = m;
		}
	}
	let axis = 0;
	for (let k = 1; k < 3; k++) if (most[k] - least[k] > most[axis] - least[axis]) axis = k;
	const middle = (least[axis] + most[axis]) / 2;
	let low = from;
	let high = to - 1;
	while (low <= high) {
		const kept = order[low];
		if (middles[3 * kept + axis] < middle) low++;
		else {
			order[low] = order[high];
			order[high] = kept;
			high--;
		}
	}
	// Triangles that all have the same middle are halved as they come, so that no chunk outgrows what a leaf can count.
	return low > from && low < to ? low : (from + to) >>> 1;
}

/** The builder's packed nodes over the triangles order[from…to), which are brought into the order of its leaves. */
function chunkNodes(
	mesh: TriangleMesh,
	position: BufferAttribute,
	order: Uint32Array,
	from: number,
	to: number,
): ArrayBuffer {
	const { triangles } = mesh;
	const corners = new Uint32Array(3 * (to - from));
	for (let i = from, c = 0; i < to; i++) {
		const t = 3 * order[i];
		corners[c++] = triangles[t];
		corners[c++] = triangles[t + 1];
		corners[c++] = triangles[t + 2];
	}
	const geometry = new BufferGeometry();
	geometry.setAttribute("position", position);
	geometry.setIndex(new BufferAttribute(corners, 1));
	const tree = new MeshBVH(geometry, {
		indirect: true,
		setBoundingBox: false,
		targetLeafSize: LEAF_TRIANGLES,
		verbose: false,
	});
	const { roots, indirectBuffer } = MeshBVH.serialize(tree, { cloneBuffers: false });
	if (roots.length !== 1 || !indirectBuffer) throw new Error("the tree builder returned no single indirect tree");
	const before = order.slice(from, to);
	for (let i = 0; i < before.length; i++) order[from + i] = before[indirectBuffer[i]];
	return roots[0] as ArrayBuffer;
}

/** Copies a chunk's nodes to node `first` on, widening the boxes by what rounding to 32 bits may have cut off. */
function copyChunk(chunk: Chunk, words: Uint32Array, bounds: Float32Array, first: number): void {
	const sourceWords = new Uint32Array(chunk.nodes);
	const sourceBounds = new Float32Array(chunk.nodes);
	const base = first * NODE_WORDS;
	for (let n = 0; n < sourceWords.length; n += NODE_WORDS) {
		for (let i = 0; i < 3; i++) {
			const least = sourceBounds[n + i];
			const most = sourceBounds[n + 3 + i];
			const slack = (Math.abs(least) + Math.abs(most)) * ROUNDING;
			bounds[base + n + i] = least - slack;
			bounds[base + n + 3 + i] = most + slack;
		}
		const last = sourceWords[n + 7];
		const leaf = last >>> 16 === LEAF_MARK;
		words[base + n + NODE_LINK] = leaf ? chunk.from + sourceWords[n + 6] : first + n / NODE_WORDS + sourceWords[n + 6];
		words[base + n + NODE_COUNT] = leaf ? last & 0xffff : 0;
	}
}
