/** A pick goes to the nearby place that stands highest or lies deepest, because that is where a needle can be set again. */

type Triple = readonly [number, number, number];

/** The ground around is judged this many times as wide as a pick may move: at its very rim every slope looks like a summit. */
export const GROUND_OVER_REACH = 1.5;
/** A place stands out when it is farther from the fitted plane than the hit by this share of the reach. */
const STANDS_OUT = 0.02;
/** Least vertices to fit a plane through with something left over. */
const LEAST_VERTICES = 7;

/**
 * The vertex within `reach` of the hit that stands highest over, or lies deepest under, the plane fitted through the ground
 * around (least squares along the mean normal); −1 where none stands out more than the hit. Ties go to the earlier vertex.
 *
 * `positions`, `normals`: 3 a vertex; `near`: vertices within GROUND_OVER_REACH × reach of the hit. All in one frame, mm.
 */
export function snapVertex(
	positions: ArrayLike<number>,
	normals: ArrayLike<number>,
	near: readonly number[],
	hit: Triple,
	normal: Triple,
	reach: number,
): number {
	// The other side of a thin part lies near too, but faces away.
	const ground = near.filter(
		(v) => normals[3 * v] * normal[0] + normals[3 * v + 1] * normal[1] + normals[3 * v + 2] * normal[2] > 0.25,
	);
	if (ground.length < LEAST_VERTICES) return -1;
	const axes = axesAround(normals, ground);
	const samples = ground.map((vertex) => sampleOf(positions, vertex, hit, axes));
	const plane = fittedPlane(samples);
	if (!plane) return -1;
	let best = -1;
	let most = Math.abs(plane[0]) + STANDS_OUT * reach;
	for (const s of samples) {
		if (s.away > reach) continue;
		const off = Math.abs(s.height - plane[0] - plane[1] * s.u - plane[2] * s.v);
		if (off > most) {
			most = off;
			best = s.vertex;
		}
	}
	return best;
}

interface Sample {
	readonly vertex: number;
	readonly u: number;
	readonly v: number;
	readonly height: number;
	readonly away: number;
}

function sampleOf(positions: ArrayLike<number>, vertex: number, hit: Triple, axes: readonly number[][]): Sample {
	const d = [0, 1, 2].map((k) => positions[3 * vertex + k] - hit[k]);
	const [u, v, height] = axes.map((e) => d[0] * e[0] + d[1] * e[1] + d[2] * e[2]);
	return { vertex, u, v, height, away: Math.hypot(d[0], d[1], d[2]) };
}

/** Two directions in the ground and its mean normal. */
function axesAround(normals: ArrayLike<number>, ground: readonly number[]): number[][] {
	const n = [0, 0, 0];
	for (const vertex of ground) for (let k = 0; k < 3; k++) n[k] += normals[3 * vertex + k];
	const long = Math.hypot(n[0], n[1], n[2]) || 1;
	for (let k = 0; k < 3; k++) n[k] /= long;
	const axis = Math.abs(n[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0];
	const e = [axis[1] * n[2] - axis[2] * n[1], axis[2] * n[0] - axis[0] * n[2], axis[0] * n[1] - axis[1] * n[0]];
	const l = Math.hypot(e[0], e[1], e[2]);
	for (let k = 0; k < 3; k++) e[k] /= l;
	return [e, [n[1] * e[2] - n[2] * e[1], n[2] * e[0] - n[0] * e[2], n[0] * e[1] - n[1] * e[0]], n];
}

/** height ≈ p₀ + p₁ u + p₂ v by least squares (normal equations, Cramer's rule), or null for samples in one line. */
function fittedPlane(samples: readonly Sample[]): [number, number, number] | null {
	let [su, sv, sh, uu, uv, vv, uh, vh] = [0, 0, 0, 0, 0, 0, 0, 0];
	for (const { u, v, height } of samples) {
		su += u;
		sv += v;
		sh += height;
		uu += u * u;
		uv += u * v;
		vv += v * v;
		uh += u * height;
		vh += v * height;
	}
	const n = samples.length;
	const a = uu - (su * su) / n;
	const b = uv - (su * sv) / n;
	const c = vv - (sv * sv) / n;
	const p = uh - (su * sh) / n;
	const q = vh - (sv * sh) / n;
	const det = a * c - b * b;
	if (!(det > 1e-12 * (a + c) * (a + c))) return null;
	const p1 = (p * c - q * b) / det;
	const p2 = (q * a - p * b) / det;
	return [(sh - p1 * su - p2 * sv) / n, p1, p2];
}
