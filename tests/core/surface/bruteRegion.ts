/** Marked areas the slow way: every triangle cut into 144 pieces, neighbours by the texts of their edges. */

import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import type { SurfaceStroke } from "../../../core/surface/surfaceRegion.ts";

const CUTS = 12;

/** mm² of brushed ground (strokes with a radius and without creases). */
export function bruteRegionArea({ positions: p, triangles }: TriangleMesh, strokes: readonly SurfaceStroke[]): number {
	const count = triangles.length / 3;
	const corner = (t: number, k: number): number[] => [0, 1, 2].map((c) => p[3 * triangles[3 * t + k] + c]);
	const byEdge = new Map<string, number[]>();
	const edges = (t: number): string[] =>
		[0, 1, 2].map((k) => [triangles[3 * t + k], triangles[3 * t + ((k + 1) % 3)]].sort((a, b) => a - b).join());
	/** Middles of the pieces of a triangle. */
	const pieces = (t: number): number[][] => {
		const [a, b, c] = [corner(t, 0), corner(t, 1), corner(t, 2)];
		const at = (u: number, v: number): number[] => a.map((x, i) => x + u * (b[i] - x) + v * (c[i] - x));
		const middles: number[][] = [];
		for (let i = 0; i < CUTS; i++)
			for (let j = 0; i + j < CUTS; j++) {
				middles.push(at((i + 1 / 3) / CUTS, (j + 1 / 3) / CUTS));
				if (i + j < CUTS - 1) middles.push(at((i + 2 / 3) / CUTS, (j + 2 / 3) / CUTS));
			}
		return middles;
	};
	const known = new Map<number, number[][]>();
	const piecesOf = (t: number): number[][] => {
		let found = known.get(t);
		if (!found) {
			found = pieces(t);
			known.set(t, found);
		}
		return found;
	};
	const inBall = ({ at, radius }: SurfaceStroke, q: number[]): boolean =>
		Math.hypot(q[0] - at[0], q[1] - at[1], q[2] - at[2]) <= (radius ?? 0);
	const near = ({ at, radius }: SurfaceStroke, t: number): boolean =>
		[0, 1, 2].some((k) => Math.hypot(...corner(t, k).map((x, i) => x - at[i])) < (radius ?? 0) + 15);
	for (let t = 0; t < count; t++)
		if (strokes.some((stroke) => near(stroke, t)))
			for (const e of edges(t)) byEdge.set(e, [...(byEdge.get(e) ?? []), t]);
	const marked = new Map<number, boolean[]>();
	for (const stroke of strokes) {
		let seed = 0;
		let least = Number.POSITIVE_INFINITY;
		for (let t = 0; t < count; t++)
			for (let k = 0; k < 3; k++) {
				const d = Math.hypot(...corner(t, k).map((x, i) => x - stroke.at[i]));
				if (d < least) [least, seed] = [d, t];
			}
		const seen = new Set([seed]);
		for (const t of seen) {
			const mine = piecesOf(t).map((q) => inBall(stroke, q));
			const before = marked.get(t) ?? mine.map(() => false);
			marked.set(
				t,
				before.map((was, i) => (mine[i] ? stroke.adds : was)),
			);
			if (t !== seed && !mine.includes(true)) continue;
			for (const e of edges(t)) for (const next of byEdge.get(e) ?? []) if (near(stroke, next)) seen.add(next);
		}
	}
	let area = 0;
	for (const [t, pieces] of marked) {
		const [a, b, c] = [corner(t, 0), corner(t, 1), corner(t, 2)];
		const [u, v] = [b.map((x, i) => x - a[i]), c.map((x, i) => x - a[i])];
		const whole = Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]) / 2;
		area += (whole * pieces.filter((m) => m).length) / pieces.length;
	}
	return area;
}
