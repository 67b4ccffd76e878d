/** The slow, obvious twin of the examination: maps of texts, no sharing of code with core/scan. */

import type { TriangleMesh } from "../../../core/scan/mesh.ts";

export interface TwinHealth {
	shells: number;
	openEdges: string[];
	nonManifoldEdges: string[];
	crowdedArea: number;
	flippedTriangles: number[];
	degenerateTriangles: number[];
	duplicateTriangles: number[];
	duplicateSameWay: number;
	closed: boolean;
	area: number;
	volume: number | null;
}

type V = readonly number[];
const minus = (a: V, b: V): V => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a: V, b: V): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: V, b: V): V => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

export const edgeKey = (a: number, b: number): string => (a < b ? `${a}-${b}` : `${b}-${a}`);

export function twinHealth(mesh: TriangleMesh): TwinHealth {
	const faces: number[][] = [];
	for (let i = 0; i < mesh.triangles.length; i += 3) faces.push([...mesh.triangles.slice(i, i + 3)]);
	const at = (v: number): V => [...mesh.positions.slice(3 * v, 3 * v + 3)];
	const area = (f: number[]): number => Math.hypot(...cross(minus(at(f[1]), at(f[0])), minus(at(f[2]), at(f[0])))) / 2;

	// Every edge with its triangles, and which way each runs it (+1 from the lower vertex to the higher).
	const edges = new Map<string, { t: number; way: number }[]>();
	faces.forEach((f, t) => {
		for (let k = 0; k < 3; k++) {
			const [a, b] = [f[k], f[(k + 1) % 3]];
			if (a === b) continue;
			const key = edgeKey(a, b);
			edges.set(key, [...(edges.get(key) ?? []), { t, way: a < b ? 1 : -1 }]);
		}
	});
	const uses = [...edges];
	const neighbours = (only2: boolean): { t: number; same: boolean }[][] => {
		const list: { t: number; same: boolean }[][] = faces.map(() => []);
		for (const [, met] of uses) {
			if (only2 && met.length !== 2) continue;
			for (const p of met) for (const q of met) if (p !== q) list[p.t].push({ t: q.t, same: p.way === q.way });
		}
		return list;
	};
	/** Sets of triangles joined by the list, with the side of each against the first of its set. */
	const flood = (list: { t: number; same: boolean }[][]): { members: number[]; side: Map<number, number> }[] => {
		const seen = new Set<number>();
		const sets: { members: number[]; side: Map<number, number> }[] = [];
		for (let seed = 0; seed < faces.length; seed++) {
			if (seen.has(seed)) continue;
			const side = new Map([[seed, 0]]);
			const members = [seed];
			seen.add(seed);
			for (let i = 0; i < members.length; i++)
				for (const n of list[members[i]]) {
					if (seen.has(n.t)) continue;
					seen.add(n.t);
					members.push(n.t);
					side.set(n.t, (side.get(members[i]) ?? 0) ^ (n.same ? 1 : 0));
				}
			sets.push({ members, side });
		}
		return sets;
	};

	const turned = new Array<boolean>(faces.length).fill(false);
	for (const patch of flood(neighbours(true))) {
		const against = patch.members.filter((t) => patch.side.get(t) === 1);
		const wrong = 2 * against.length > patch.members.length ? 0 : 1;
		for (const t of patch.members) if (patch.side.get(t) === wrong) turned[t] = true;
	}
	const shells = flood(neighbours(false)).map((s) => s.members);
	const whole = shells.map((shell) => {
		const own = new Set(shell);
		const mine = uses.filter(([, met]) => own.has(met[0].t));
		const rim = mine.filter(([, met]) => met.length === 1).map(([key]) => key.split("-").map(Number));
		const lengths = rim.map(([a, b]) => Math.hypot(...minus(at(a), at(b))));
		const open = lengths.reduce((s, x) => s + x, 0);
		const middle = (k: number): number =>
			open > 0
				? rim.reduce((s, [a, b], i) => s + (lengths[i] * (at(a)[k] + at(b)[k])) / 2, 0) / open
				: at(faces[shell[0]][0])[k];
		const from = [middle(0), middle(1), middle(2)];
		const area1 = shell.reduce((s, t) => s + area(faces[t]), 0);
		const volume = shell.reduce((s, t) => {
			const [a, b, c] = faces[t].map((v) => minus(at(v), from));
			return s + ((turned[t] ? -1 : 1) * dot(a, cross(b, c))) / 6;
		}, 0);
		return { shell, closed: open === 0, open, area: area1, volume };
	});
	/** Whether the first triangle's middle lies inside an odd number of sheets of the other closed shells. */
	const nested = (s: number): boolean => {
		const f = faces[whole[s].shell[0]];
		const start = [0, 1, 2].map((k) => 0.2 * at(f[0])[k] + 0.33 * at(f[1])[k] + 0.47 * at(f[2])[k]);
		const d = [0.411, 0.2377, 0.8802];
		let hits = 0;
		whole.forEach((other, i) => {
			if (i === s || !other.closed) return;
			for (const t of other.shell) {
				// Möller and Trumbore 1997
				const [a, b, c] = faces[t].map(at);
				const [e1, e2] = [minus(b, a), minus(c, a)];
				const p = cross(d, e2);
				const det = dot(e1, p);
				if (det === 0) continue;
				const w = minus(start, a);
				const u = dot(w, p) / det;
				const q = cross(w, e1);
				const v = dot(d, q) / det;
				if (u > 0 && v > 0 && u + v < 1 && dot(e2, q) / det > 0) hits++;
			}
		});
		return hits % 2 === 1;
	};
	whole.forEach((w, s) => {
		if (w.volume >= -1e-9 * w.area ** 1.5) return;
		const insideOut = w.closed ? !nested(s) : w.open ** 2 < w.area;
		if (insideOut) for (const t of w.shell) turned[t] = !turned[t];
	});

	const duplicateTriangles: number[] = [];
	let duplicateSameWay = 0;
	const met = new Map<string, Set<string>>();
	faces.forEach((f, t) => {
		if (new Set(f).size < 3) return;
		const sorted = [...f].sort((a, b) => a - b).join();
		const first = f.indexOf(Math.min(...f));
		const way = [0, 1, 2].map((k) => f[(first + k) % 3]).join();
		const ways = met.get(sorted);
		if (ways) {
			duplicateTriangles.push(t);
			if (ways.has(way)) duplicateSameWay++;
			ways.add(way);
		} else met.set(sorted, new Set([way]));
	});

	const closed = faces.length > 0 && uses.every(([, m]) => m.reduce((s, x) => s + x.way, 0) === 0);
	return {
		shells: shells.length,
		openEdges: uses.filter(([, m]) => m.length === 1).map(([key]) => key),
		crowdedArea: faces
			.filter((f) => f.some((a, k) => (edges.get(edgeKey(a, f[(k + 1) % 3]))?.length ?? 0) > 2))
			.reduce((sum, f) => sum + area(f), 0),
		nonManifoldEdges: uses.filter(([, m]) => m.length > 2).map(([key]) => key),
		flippedTriangles: faces.map((_, t) => t).filter((t) => turned[t]),
		degenerateTriangles: faces
			.map((_, t) => t)
			.filter((t) => {
				const [a, b, c] = faces[t].map(at);
				const longest = Math.max(...[minus(a, b), minus(b, c), minus(c, a)].map((e) => Math.hypot(...e)));
				return 2 * area(faces[t]) <= 1e-12 * longest ** 2;
			}),
		duplicateTriangles,
		duplicateSameWay,
		closed,
		area: faces.reduce((s, f) => s + area(f), 0),
		volume: closed ? faces.reduce((s, f) => s + dot(at(f[0]), cross(at(f[1]), at(f[2]))) / 6, 0) : null,
	};
}
