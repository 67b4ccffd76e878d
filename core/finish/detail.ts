/** How much of the surface is detail, where a pad cannot lie and an abrasive is folded in by hand. */

import { areaBetween } from "../scan/measures.ts";
import type { TriangleMesh } from "../scan/mesh.ts";
import type { Bent } from "../surface/surfaceRegion.ts";

export interface FinishedGround {
	/** mm², the foot not counted. */
	readonly open: number;
	readonly detail: number;
	readonly foot: number;
}

/** Triangles that lie wholly so near the ground are the foot and are not finished, mm. */
const FOOT_WITHIN = 0.5;

/** Detail is ground bent more tightly than `radius` mm, bulging or hollow, at two corners of its triangle or more. */
export function finishedGround({ positions: p, triangles }: TriangleMesh, bent: Bent, radius: number): FinishedGround {
	let open = 0;
	let detail = 0;
	let foot = 0;
	const tight = (v: number): number => (Math.max(bent.k1[v], -bent.k2[v]) * radius > 1 ? 1 : 0);
	for (let t = 0; t < triangles.length; t += 3) {
		const [a, b, c] = [triangles[t], triangles[t + 1], triangles[t + 2]];
		const area = areaBetween(p, a, b, c);
		if (Math.max(p[3 * a + 2], p[3 * b + 2], p[3 * c + 2]) <= FOOT_WITHIN) foot += area;
		else if (tight(a) + tight(b) + tight(c) >= 2) detail += area;
		else open += area;
	}
	return { open, detail, foot };
}
