/** Gold leaf for a marked area: how many leaves and books, with overlap and waste (handbook 13). */

import { Refusal } from "../refusal.ts";

export interface LeafRules {
	/** Side of a leaf, mm. */
	readonly leaf_mm: number;
	/** By which each leaf lies over the one before, mm. */
	readonly overlap_mm: number;
	/** Share of the leaves that tears, blows away or mends faults. */
	readonly waste: number;
	readonly perBook: number;
}

/**
 * Leaf sizes sold (an art-materials shop for Europe; gilding suppliers for America; old building and bookbinding books for
 * the British 3¼ in).
 */
export const LEAF_SIZES: readonly { readonly words: string; readonly mm: number }[] = [
	{ words: "80 mm, sold in Europe", mm: 80 },
	{ words: "3 3/8 in, sold in America", mm: 85.725 },
	{ words: "3 1/4 in, older British", mm: 82.55 },
];

export interface LeafCount {
	/** mm² that one leaf covers once it overlaps. */
	readonly covers: number;
	readonly leaves: number;
	readonly books: number;
}

/** In words, whole leaves and books. */
export const leavesText = ({ leaves, books }: Pick<LeafCount, "leaves" | "books">): string =>
	`${leaves} ${leaves === 1 ? "leaf" : "leaves"}, ${books} ${books === 1 ? "book" : "books"}`;

/** Leaves for an area in mm². Refuses an overlap that leaves nothing of the leaf. */
export function leavesFor(area: number, { leaf_mm, overlap_mm, waste, perBook }: LeafRules): LeafCount {
	if (overlap_mm >= leaf_mm) throw new Refusal("finish.overlap", { overlap: overlap_mm, leaf: leaf_mm });
	const side = leaf_mm - overlap_mm;
	const covers = side * side;
	const leaves = Math.ceil((area / covers) * (1 + waste) - 1e-9);
	return { covers, leaves, books: Math.ceil(leaves / perBook) };
}
