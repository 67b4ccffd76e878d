/**
 * Holes checked the slow and obvious way, without the planner's index or solids: every triangle of the model against the
 * hole of one point, by convex minimisation over the triangle.
 */

import type { Plan, PlanPoint } from "../../core/plan/planFile.ts";
import type { TriangleMesh } from "../../core/scan/mesh.ts";
import { dot, type Placement, placeBack, sub, turnBack, type Vec3 } from "../../core/vector.ts";
import { offHole, type PlainHole, radiusAt } from "./holeGeometry.ts";

/** A hole in the model frame: a flat, ball or pointed end at `tip`, open at `entry`. */
export interface Hole {
	readonly tip: Vec3;
	/** Unit, from the tip towards the entry. */
	readonly out: Vec3;
	readonly depth: number;
	readonly plain: PlainHole;
}

export function holeOf(plan: Plan, point: PlanPoint): Hole {
	if (point.line === null || point.entry_mm === null || point.depth_mm === null) throw new Error("no line");
	const { tool } = plan.rounds[point.round];
	const placement = plan.stone.placement as Placement;
	const entry = placeBack(placement, point.entry_mm);
	const out = turnBack(placement.rotation, point.line);
	return {
		tip: [entry[0] - point.depth_mm * out[0], entry[1] - point.depth_mm * out[1], entry[2] - point.depth_mm * out[2]],
		out,
		depth: point.depth_mm,
		plain: { tip: tool.tip, r: tool.radius_mm, pointAngleDeg: tool.pointAngle_deg },
	};
}

/** Distance of a place from the hole as aimed; 0 inside. */
function fromHole(hole: Hole, p: Vec3): number {
	const [s, rho] = onLine(hole, p);
	return offHole(hole.plain, 0, s, rho);
}

/** How far a place lies inside the hole at worst aim; negative outside. `grow(s)` at s mm from the skin; tip `push` deeper. */
function insideWorst(hole: Hole, p: Vec3, grow: (s: number) => number, push: number): number {
	const [s, rho] = onLine(hole, p);
	const fromSkin = hole.depth - s;
	const back = s + push;
	const radius = (back < 0 ? 0 : radiusAt(hole.plain, -push, s)) + grow(Math.max(0, fromSkin));
	return Math.min(radius - rho, back, fromSkin);
}

/** Along the hole from its tip, and away from its line. */
function onLine({ tip, out }: Hole, p: Vec3): readonly [number, number] {
	const d = sub(p, tip);
	const s = dot(d, out);
	return [s, Math.sqrt(Math.max(0, dot(d, d) - s * s))];
}

/** Least value of a function over a triangle, convex or nearly so: a grid, then finer ones about the best place. */
function leastOver(a: Vec3, b: Vec3, c: Vec3, f: (p: Vec3) => number): number {
	let [bu, bv, step] = [1 / 3, 1 / 3, 1 / 3];
	let best = Number.POSITIVE_INFINITY;
	for (let level = 0; level < 6; level++) {
		const [cu, cv] = [bu, bv];
		for (let i = -3; i <= 3; i++)
			for (let j = -3; j <= 3; j++) {
				const u = Math.max(0, Math.min(1, cu + i * step));
				const v = Math.max(0, Math.min(1 - u, cv + j * step));
				const w = 1 - u - v;
				const value = f([
					u * a[0] + v * b[0] + w * c[0],
					u * a[1] + v * b[1] + w * c[1],
					u * a[2] + v * b[2] + w * c[2],
				]);
				if (value < best) [best, bu, bv] = [value, u, v];
			}
		step /= 2.5;
	}
	return best;
}

export interface HoleCheck {
	/** Least distance of the model from the hole as aimed, mm. */
	readonly clearance: number;
	/** How deep the model reaches into the hole at worst aim, mm; negative when it stays out. */
	readonly worstInside: number;
}

/** Every triangle of the mesh against one hole. */
export function bruteCheck(mesh: TriangleMesh, hole: Hole, plan: Plan, point: PlanPoint): HoleCheck {
	const { positions: p, triangles: t } = mesh;
	const { aim } = plan;
	const spread = Math.tan((aim.lean_deg * Math.PI) / 180) + aim.wander;
	const grow = (s: number): number => aim.mark_mm + spread * s;
	const [lu, lv] = point.lean_deg ?? [0, 0];
	const [tu, tv] = [Math.tan((lu * Math.PI) / 180), Math.tan((lv * Math.PI) / 180)];
	const leanSine = Math.sqrt((tu * tu + tv * tv) / (1 + tu * tu + tv * tv));
	const push = plan.transfer === "machine" ? 0 : aim.mark_mm * leanSine;
	// A triangle farther from the axis than this can decide neither.
	const far = hole.plain.r + grow(hole.depth) + push + plan.rounds[point.round].allowance_mm + 3;
	let clearance = Number.POSITIVE_INFINITY;
	let worstInside = Number.NEGATIVE_INFINITY;
	const at = (v: number): Vec3 => [p[3 * v], p[3 * v + 1], p[3 * v + 2]];
	const [ox, oy, oz] = hole.tip;
	const [dx, dy, dz] = hole.out;
	// First the corners of all triangles, so that few triangles are left that could still decide.
	const near: number[] = [];
	for (let i = 0; i < t.length; i += 3) {
		const v = 3 * t[i];
		const x = p[v] - ox;
		const y = p[v + 1] - oy;
		const z = p[v + 2] - oz;
		const s = x * dx + y * dy + z * dz;
		// Triangles of the demo scans are under 4 mm across.
		if (s < -far - 4 || s > hole.depth + far + 4 || x * x + y * y + z * z - s * s > (far + 4) * (far + 4)) continue;
		near.push(i);
		const corner = at(t[i]);
		clearance = Math.min(clearance, fromHole(hole, corner));
		worstInside = Math.max(worstInside, insideWorst(hole, corner, grow, push));
	}
	for (const i of near) {
		const [a, b, c] = [at(t[i]), at(t[i + 1]), at(t[i + 2])];
		const reach = Math.max(Math.hypot(...sub(b, a)), Math.hypot(...sub(c, a)));
		if (fromHole(hole, a) - reach < clearance)
			clearance = Math.min(
				clearance,
				leastOver(a, b, c, (q) => fromHole(hole, q)),
			);
		// The worst-aimed hole is at most a cone of small slope, so that the same bound holds with a little more.
		if (insideWorst(hole, a, grow, push) + (1 + spread) * reach > worstInside)
			worstInside = Math.max(worstInside, -leastOver(a, b, c, (q) => -insideWorst(hole, q, grow, push)));
	}
	return { clearance, worstInside };
}
