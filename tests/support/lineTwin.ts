/**
 * Drill lines the slow and obvious way: every vertex and triangle against one line, directions from a fan of their own.
 * Shares no code with the search but rays and the stone's planes.
 */

import type { Aim, Drill } from "../../core/drilling/drill.ts";
import type { DrillTarget } from "../../core/drilling/drillLine.ts";
import type { Lie } from "../../core/drilling/lies.ts";
import type { TriangleMesh } from "../../core/scan/mesh.ts";
import { exitOf, type Stone } from "../../core/stone/block.ts";
import type { SurfaceIndex } from "../../core/surface/surfaceIndex.ts";
import {
	along,
	cross,
	distance,
	dot,
	type Placement,
	place,
	squareTo,
	sub,
	turn,
	unit,
	type Vec3,
} from "../../core/vector.ts";
import { offHole, type PlainHole, radiusAt } from "./holeGeometry.ts";

const radians = (degrees: number): number => (degrees * Math.PI) / 180;
/** Longest edge of the scans in the tests, mm. */
const WIDEST_TRIANGLE = 4;

/** A hole that is planned already, stone frame. */
export interface OtherHole {
	readonly tip: Vec3;
	readonly entry: Vec3;
	readonly radius: number;
}

/** Stone that stays between two holes, mm (common practice, no source). */
const WEB = 1;
const STEPS = 240;

/** Least stone between a hole and others, by places along it. */
function leastWeb(tip: Vec3, entry: Vec3, radius: number, others: readonly OtherHole[]): number {
	let least = Number.POSITIVE_INFINITY;
	for (const other of others) {
		const e = sub(other.entry, other.tip);
		const ee = dot(e, e);
		// Holes whose middles are farther apart than both are long cannot meet.
		const apart = distance(along(tip, sub(entry, tip), 0.5), along(other.tip, e, 0.5));
		if (apart > (distance(tip, entry) + Math.sqrt(ee)) / 2 + radius + other.radius + WEB) continue;
		for (let i = 0; i <= STEPS; i++) {
			const p = along(tip, sub(entry, tip), i / STEPS);
			const share = Math.max(0, Math.min(1, dot(sub(p, other.tip), e) / ee));
			least = Math.min(least, distance(p, along(other.tip, e, share)) - radius - other.radius);
		}
	}
	return least;
}

export interface TwinRules {
	readonly index: SurfaceIndex;
	readonly stone: Stone;
	readonly placement: Placement;
	readonly leanDeg: number;
	readonly outsideMm: number;
	readonly aim: Aim;
}

/** Directions about a unit vector, `step`° apart, out to `most` degrees. */
export function fan(normal: Vec3, most: number, step = 2): Vec3[] {
	const u = squareTo(normal);
	const v = cross(normal, u);
	const all: Vec3[] = [];
	for (let tilt = 0; tilt <= most + 1e-9; tilt += step) {
		const around = Math.max(1, Math.round((360 / step) * Math.sin(radians(tilt))));
		for (let k = 0; k < around; k++) {
			const round = (2 * Math.PI * k) / around;
			const out = along(along([0, 0, 0], u, Math.cos(round)), v, Math.sin(round));
			all.push(unit(along(along([0, 0, 0], normal, Math.cos(radians(tilt))), out, Math.sin(radians(tilt)))));
		}
	}
	return all;
}

/** What one drill with one allowance can do. */
export function lineTwin(
	{ index, stone, placement, leanDeg, outsideMm, aim }: TwinRules,
	drill: Drill,
	allowance: number,
) {
	const { positions, triangles }: TriangleMesh = index.mesh;
	const vertices = positions.length / 3;
	const r = drill.holeRadius;
	const hole: PlainHole = { tip: drill.tip, r, pointAngleDeg: drill.pointAngleDeg };
	const growth = Math.tan(radians(aim.leanDeg)) + aim.wander;

	/** How far the tip may be pushed in on a line whose cosine with the face's normal is `square`. */
	const pushOf = (square: number): number =>
		aim.fromFace ? aim.mark * Math.sqrt(Math.max(0, 1 - square * square)) : 0;

	/** Least distance of the surface from the hole as aimed, and how deep it reaches into the worst-aimed one, by samples. */
	const holdAgainst = (
		o: Vec3,
		d: Vec3,
		entry: number,
		push: number,
		stop: number,
	): { clearance: number; inside: number } => {
		const reach = r + allowance + aim.mark + growth * entry + 3;
		let clearance = Number.POSITIVE_INFINITY;
		let inside = Number.NEGATIVE_INFINITY;
		const hold = (x: number, y: number, z: number): void => {
			const px = x - o[0];
			const py = y - o[1];
			const pz = z - o[2];
			const ahead = px * d[0] + py * d[1] + pz * d[2];
			const rho = Math.sqrt(Math.max(0, px * px + py * py + pz * pz - ahead * ahead));
			clearance = Math.min(clearance, offHole(hole, stop, ahead, rho));
			const grown = aim.mark + growth * (entry - ahead);
			const back = ahead - (stop - push);
			inside = Math.max(inside, Math.min(back, radiusAt(hole, stop - push, ahead) + grown - rho));
		};
		for (let t = 0; t < triangles.length; t += 3) {
			const a = 3 * triangles[t];
			const px = positions[a] - o[0];
			const py = positions[a + 1] - o[1];
			const pz = positions[a + 2] - o[2];
			const ahead = px * d[0] + py * d[1] + pz * d[2];
			if (ahead < -reach) continue;
			if (px * px + py * py + pz * pz - ahead * ahead > (reach + WIDEST_TRIANGLE) ** 2) continue;
			const b = 3 * triangles[t + 1];
			const c = 3 * triangles[t + 2];
			for (let i = 0; i <= 6; i++)
				for (let j = 0; j <= 6 - i; j++) {
					const [u, v] = [i / 6, j / 6];
					const w = 1 - u - v;
					hold(
						w * positions[a] + u * positions[b] + v * positions[c],
						w * positions[a + 1] + u * positions[b + 1] + v * positions[c + 1],
						w * positions[a + 2] + u * positions[b + 2] + v * positions[c + 2],
					);
				}
		}
		return { clearance, inside };
	};

	/** Stop over a plane tilted by that tangent, as aimed and at worst aim (handbook 8). */
	const stopOverPlane = (slope: number, entry: number, push: number): number => {
		const seen = slope / (1 + growth * slope);
		const secant = Math.hypot(1, slope);
		const sideways = aim.mark + growth * entry;
		if (drill.tip === "ball")
			return Math.max((allowance + r) * secant - r, r * Math.hypot(1, seen) - r + seen * sideways + push);
		const flat = Math.max(allowance * secant + r * slope, seen * (r + sideways) + push);
		if (drill.tip === "flat") return flat;
		const cone = r / Math.tan(radians(drill.pointAngleDeg / 2));
		return Math.max(
			allowance * secant,
			allowance * secant + r * slope - cone,
			seen * sideways + push,
			seen * (r + sideways) + push - cone,
		);
	};

	/** What blocked last is asked first. */
	let latest = 0;
	/** Whether a line (unit, model frame) is permitted and clear, by every vertex and then every triangle. */
	const isClear = (
		{ position: o, normal }: DrillTarget,
		d: Vec3,
		lies: readonly Lie[],
		others: readonly OtherHole[] = [],
	): boolean => {
		const inStone = place(placement, o);
		const out = turn(placement.rotation, d);
		const exit = exitOf(stone, inStone, out);
		if (!exit) return false;
		const square = dot(out, exit.face.normal);
		if (square < Math.cos(radians(leanDeg))) return false;
		const entered = along(inStone, out, exit.distance);
		for (const face of stone.faces)
			if (face !== exit.face && face.offset - dot(entered, face.normal) < drill.diameter) return false;
		const end = along(inStone, out, exit.distance + outsideMm);
		const workable = lies.some((lie) => {
			const closed = stone.faces.find((face) => face.name === lie.closedFace);
			return closed !== undefined && closed !== exit.face && dot(end, closed.normal) <= closed.offset;
		});
		if (!workable) return false;
		const push = pushOf(square);
		const slope = Math.tan(Math.acos(Math.min(1, dot(d, normal))));
		const plane = stopOverPlane(slope, exit.distance, push);
		const stop = Math.min(plane + 2 * r, exit.distance - 0.5);
		if (stop < plane) return false;
		if (exit.distance - allowance + (drill.chuckRadius * Math.sqrt(1 - square * square)) / square > drill.reach)
			return false;
		const blocks = (v: number): boolean => {
			const px = positions[3 * v] - o[0];
			const py = positions[3 * v + 1] - o[1];
			const pz = positions[3 * v + 2] - o[2];
			const ahead = px * d[0] + py * d[1] + pz * d[2];
			if (ahead < stop - allowance - push) return false;
			const aside = px * px + py * py + pz * pz - ahead * ahead;
			const grown = aim.mark + growth * (exit.distance - ahead);
			if (aside > (r + Math.max(allowance, grown)) ** 2) return false;
			const rho = Math.sqrt(Math.max(0, aside));
			if (offHole(hole, stop, ahead, rho) < allowance) return true;
			return ahead > stop - push && radiusAt(hole, stop - push, ahead) + grown > rho;
		};
		if (blocks(latest)) return false;
		for (let v = 0; v < vertices; v++)
			if (blocks(v)) {
				latest = v;
				return false;
			}
		if (index.castRay(along(o, d, 0.5), d, Math.max(0, stop - 0.5))) return false;
		const { clearance, inside } = holdAgainst(o, d, exit.distance, push, stop);
		if (!(clearance >= allowance && inside <= 0)) return false;
		return leastWeb(along(inStone, out, stop), entered, r, others) >= WEB;
	};

	return { pushOf, holdAgainst, isClear };
}
