/**
 * Creases and edges of the figure: lines along which it bends more sharply than beside them. They belong to the surface, not to
 * the view, so they are found once.
 *
 * Source: Y. Ohtake, A. Belyaev and H.-P. Seidel, "Ridge-valley lines on meshes via implicit surface fitting" (2004), for the
 * test on edges; S. Yoshizawa, A. Belyaev and H.-P. Seidel, "Fast and robust detection of crest lines on meshes" (2005), for
 * the sum of curvature along a line as its strength. Changed: curvatures come smoothed over the smallest form, and their
 * change along the principal direction is the gradient over the triangles around a vertex, averaged by area.
 */

import type { CurvatureField } from "../curvature/principalCurvatures.ts";
import type { Job } from "../job.ts";
import type { TriangleMesh } from "../scan/mesh.ts";
import { chainBuilder, type LevelLines } from "./levelLines.ts";

/** Least curvature of a line, 1/mm: a bend of 14 mm radius. */
const LEAST = 0.07;
/** Least sum of curvature along a line: how far the surface would turn, in radians, if it bent along it as it does across. */
const STRENGTH = 1.2;
/** Shorter lines are left out, mm. */
const SHORTEST = 5;

export interface CreaseLines {
	/** Where the surface is hollow across the line: cut lines, folds. */
	readonly hollow: LevelLines;
	/** Where it stands out across the line: arrises, rims of feathers. */
	readonly bulging: LevelLines;
}

export function* findCreases(mesh: TriangleMesh, curvature: CurvatureField): Job<CreaseLines> {
	const n = curvature.k1.length;
	const { k1, k2, direction1, normals } = curvature;
	const across = new Float32Array(3 * n);
	const hollowness = new Float64Array(n);
	for (let i = 0, p = 0; i < n; i++, p += 3) {
		hollowness[i] = -k2[i];
		across[p] = normals[p + 1] * direction1[p + 2] - normals[p + 2] * direction1[p + 1];
		across[p + 1] = normals[p + 2] * direction1[p] - normals[p] * direction1[p + 2];
		across[p + 2] = normals[p] * direction1[p + 1] - normals[p + 1] * direction1[p];
	}
	const bulge = new Float64Array(n);
	const hollow = new Float64Array(n);
	for (let i = 0; i < n; i++) {
		bulge[i] = k1[i] > Math.abs(k2[i]) ? k1[i] : 0;
		hollow[i] = hollowness[i] > Math.abs(k1[i]) ? hollowness[i] : 0;
	}
	const stage = "finding creases";
	yield { stage, share: 0.2 };
	const cut = crestLines(mesh, hollowness, hollow, across);
	yield { stage, share: 0.6 };
	return { hollow: cut, bulging: crestLines(mesh, k1, bulge, direction1) };
}

/** Lines where `k` is greatest along `direction`, of the places where `strong` (k, or 0 where it does not count) is enough. */
function crestLines(mesh: TriangleMesh, k: Float64Array, strong: Float64Array, direction: Float32Array): LevelLines {
	const { positions: x, triangles: t } = mesh;
	const n = k.length;
	const change = changeAlong(mesh, k, direction);
	const chains = chainBuilder(n);
	const alike = (a: number, b: number): number =>
		direction[3 * a] * direction[3 * b] +
		direction[3 * a + 1] * direction[3 * b + 1] +
		direction[3 * a + 2] * direction[3 * b + 2];
	/** Share of the edge at which the change passes through nothing on the way from more to less, or −1. */
	const crossing = (a: number, b: number): number => {
		const same = alike(a, b);
		if (Math.abs(same) < 0.5) return -1;
		const ea = change[a];
		const eb = same > 0 ? change[b] : -change[b];
		if (ea * eb >= 0) return -1;
		// A greatest value lies ahead of the end where k grows along the direction, and behind the other one.
		let ahead = 0;
		for (let i = 0; i < 3; i++) ahead += (x[3 * b + i] - x[3 * a + i]) * direction[3 * a + i];
		if (ea * ahead <= 0) return -1;
		const s = ea / (ea - eb);
		return (1 - s) * strong[a] + s * strong[b] >= LEAST ? s : -1;
	};
	for (let i = 0; i < t.length; i += 3) {
		const [a, b, c] = [t[i], t[i + 1], t[i + 2]];
		if (strong[a] + strong[b] + strong[c] < LEAST) continue;
		const nodes: number[] = [];
		for (const [p, q] of [
			[a, b],
			[b, c],
			[c, a],
		]) {
			const s = crossing(p, q);
			if (s >= 0) nodes.push(chains.node(p, q, 0, s));
		}
		if (nodes.length === 2) chains.segment(nodes[0], nodes[1]);
	}
	const lines = chains.finish();
	return { ...lines, chains: lines.chains.filter((chain) => strongEnough(mesh, lines, chain, k)) };
}

function strongEnough(mesh: TriangleMesh, lines: LevelLines, chain: readonly number[], k: Float64Array): boolean {
	let sum = 0;
	let length = 0;
	const at = (node: number, i: number): number => {
		const [a, b, s] = [lines.from[node], lines.to[node], lines.share[node]];
		return (1 - s) * mesh.positions[3 * a + i] + s * mesh.positions[3 * b + i];
	};
	for (let j = 1; j < chain.length; j++) {
		let d2 = 0;
		for (let i = 0; i < 3; i++) {
			const d = at(chain[j], i) - at(chain[j - 1], i);
			d2 += d * d;
		}
		const d = Math.sqrt(d2);
		length += d;
		sum += d * k[lines.from[chain[j]]];
	}
	return length >= SHORTEST && sum >= STRENGTH;
}

/** Derivative of a value given at the vertices along a direction at each of them: gradients of the triangles, averaged by area. */
function changeAlong(mesh: TriangleMesh, k: Float64Array, direction: Float32Array): Float64Array {
	const { positions: x, triangles: t } = mesh;
	const gradient = new Float64Array(x.length);
	for (let i = 0; i < t.length; i += 3) {
		const a = t[i];
		const b = t[i + 1];
		const c = t[i + 2];
		const ux = x[3 * b] - x[3 * a];
		const uy = x[3 * b + 1] - x[3 * a + 1];
		const uz = x[3 * b + 2] - x[3 * a + 2];
		const vx = x[3 * c] - x[3 * a];
		const vy = x[3 * c + 1] - x[3 * a + 1];
		const vz = x[3 * c + 2] - x[3 * a + 2];
		const nx = uy * vz - uz * vy;
		const ny = uz * vx - ux * vz;
		const nz = ux * vy - uy * vx;
		const area2 = nx * nx + ny * ny + nz * nz;
		if (area2 === 0) continue;
		// Gradient × twice the area = n̂ × (kb (a − c) + kc (b − a)) for k measured from its value at a (Botsch et al. 2010).
		const kb = k[b] - k[a];
		const kc = k[c] - k[a];
		const wx = kc * ux - kb * vx;
		const wy = kc * uy - kb * vy;
		const wz = kc * uz - kb * vz;
		const length = Math.sqrt(area2);
		const gx = (ny * wz - nz * wy) / length;
		const gy = (nz * wx - nx * wz) / length;
		const gz = (nx * wy - ny * wx) / length;
		for (const v of [a, b, c]) {
			gradient[3 * v] += gx;
			gradient[3 * v + 1] += gy;
			gradient[3 * v + 2] += gz;
		}
	}
	const change = new Float64Array(k.length);
	for (let v = 0, p = 0; v < k.length; v++, p += 3)
		change[v] = gradient[p] * direction[p] + gradient[p + 1] * direction[p + 1] + gradient[p + 2] * direction[p + 2];
	return change;
}
