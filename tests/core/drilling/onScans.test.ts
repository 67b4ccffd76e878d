/**
 * Lines, stops and undercuts on real and on seed scans, against plain loops over every vertex or triangle that share no
 * code with the search: geometry from `holeGeometry.ts`, directions from a 2° fan of their own.
 */

import { describe, expect, it } from "vitest";
import { type Aim, aimOf, type Drill, drillOf } from "../../../core/drilling/drill.ts";
import { type DrillLine, type DrillTarget, isUndercut, type Undercut } from "../../../core/drilling/drillLine.ts";
import { type Lie, proposeLies } from "../../../core/drilling/lies.ts";
import { createLineSearch, type LineSearchSetup } from "../../../core/drilling/lineSearch.ts";
import { finish } from "../../../core/job.ts";
import { toolSchema } from "../../../core/plan/commission.ts";
import { seededRandom } from "../../../core/random.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { exitOf, stoneOf } from "../../../core/stone/block.ts";
import { buildSurfaceIndex } from "../../../core/surface/surfaceIndex.ts";
import { along, cross, dot, IDENTITY, place, squareTo, sub, unit, type Vec3 } from "../../../core/vector.ts";
import { seeds } from "../../../seeds/index.ts";
import { dragonMesh } from "../../support/dragonMesh.ts";
import { offHole, type PlainHole } from "../../support/holeGeometry.ts";
import { share } from "../../support/prove.ts";

interface Case {
	readonly name: string;
	readonly mesh: TriangleMesh;
	readonly open: boolean;
	readonly aim: Aim;
	readonly drill: Drill;
	readonly allowance: number;
}

const dragonStanding = (): TriangleMesh => {
	const mesh = dragonMesh(300);
	const { positions } = mesh;
	// Its y points up.
	for (let i = 0; i < positions.length; i += 3)
		[positions[i + 1], positions[i + 2]] = [-positions[i + 2], positions[i + 1]];
	return mesh;
};
const made = (name: string): TriangleMesh => finish(seeds.find((seed) => seed.name === name)!.make());

const CASES: readonly (() => Case)[] = [
	() => ({
		name: "an open scan",
		mesh: dragonStanding(),
		open: false,
		aim: aimOf("faces"),
		drill: drillOf(toolSchema.parse({})),
		allowance: 2,
	}),
	() => ({
		name: "the owl",
		mesh: made("owl"),
		open: false,
		aim: aimOf("faces"),
		drill: drillOf(toolSchema.parse({ drill_mm: 4 })),
		allowance: 2,
	}),
	() => ({
		name: "the leaf face, guided by the machine, with a burr",
		mesh: made("leaf-face"),
		open: true,
		aim: aimOf("machine"),
		drill: drillOf(toolSchema.parse({ tip: "ball", drill_mm: 5, action: "diamond" })),
		allowance: 3.5,
	}),
];

const CONE = 30;
const LEAN = 25;
const OUTSIDE = 300;
const radians = (degrees: number): number => (degrees * Math.PI) / 180;

function vertexNormals({ positions, triangles }: TriangleMesh): Float64Array {
	const normals = new Float64Array(positions.length);
	const at = (v: number): Vec3 => [positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]];
	for (let t = 0; t < triangles.length; t += 3) {
		const [a, b, c] = [at(triangles[t]), at(triangles[t + 1]), at(triangles[t + 2])];
		const n = cross(sub(b, a), sub(c, a));
		for (let k = 0; k < 3; k++) for (let i = 0; i < 3; i++) normals[3 * triangles[t + k] + i] += n[i];
	}
	return normals;
}

function blockAround({ positions }: TriangleMesh): Pick<LineSearchSetup, "stone" | "placement"> {
	const least = [Infinity, Infinity, Infinity];
	const most = [-Infinity, -Infinity, -Infinity];
	for (let i = 0; i < positions.length; i++) {
		least[i % 3] = Math.min(least[i % 3], positions[i]);
		most[i % 3] = Math.max(most[i % 3], positions[i]);
	}
	const size = least.map((x, k) => Math.ceil((most[k] - x + 40) / 10) * 10) as unknown as Vec3;
	return {
		stone: stoneOf({ kind: "box", size }),
		placement: {
			rotation: IDENTITY,
			translation: least.map((x, k) => (size[k] - x - most[k]) / 2) as unknown as Vec3,
		},
	};
}

describe.each(CASES)("on a scan, case %#", (make) => {
	const { name, mesh, open, aim, drill, allowance } = make();
	const setup: LineSearchSetup = {
		index: finish(buildSurfaceIndex(mesh)),
		...blockAround(mesh),
		lies: proposeLies(!open),
		coneDeg: CONE,
		leanDeg: LEAN,
		outsideMm: OUTSIDE,
		aim,
	};
	const search = createLineSearch(setup);
	const normals = vertexNormals(mesh);
	const { positions, triangles } = mesh;
	const vertices = positions.length / 3;
	const hole: PlainHole = { tip: drill.tip, r: drill.holeRadius, pointAngleDeg: drill.pointAngleDeg };
	const growth = Math.tan(radians(aim.leanDeg)) + aim.wander;

	const random = seededRandom(2024);
	const found: { target: DrillTarget; answer: DrillLine | Undercut }[] = [];
	for (let i = 0; i < share(2000); i++) {
		const v = random.below(vertices);
		const target: DrillTarget = {
			position: [positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]],
			normal: unit([normals[3 * v], normals[3 * v + 1], normals[3 * v + 2]]),
		};
		found.push({ target, answer: search.find(target, drill, allowance) });
	}
	const lines = found.flatMap(({ target, answer }) => (isUndercut(answer) ? [] : [{ target, line: answer }]));
	const undercuts = found.flatMap(({ target, answer }) => (isUndercut(answer) ? [target] : []));

	/** Sine of the lean of a line that leaves by a face. */
	const leanSine = (square: number): number => Math.sqrt(Math.max(0, 1 - square * square));
	const pushOf = (square: number): number => (aim.fromFace ? aim.mark * leanSine(square) : 0);

	/** Least distance of the surface from the hole as aimed, and how deep it reaches into the worst-aimed one, by samples. */
	const holdAgainst = (
		o: Vec3,
		d: Vec3,
		entry: number,
		push: number,
		stop: number,
	): { clearance: number; inside: number } => {
		const reach = drill.holeRadius + allowance + aim.mark + growth * entry + 3;
		let clearance = Infinity;
		let inside = -Infinity;
		const hold = (x: number, y: number, z: number): void => {
			const px = x - o[0];
			const py = y - o[1];
			const pz = z - o[2];
			const ahead = px * d[0] + py * d[1] + pz * d[2];
			const rho = Math.sqrt(Math.max(0, px * px + py * py + pz * pz - ahead * ahead));
			clearance = Math.min(clearance, offHole(hole, stop, ahead, rho));
			// The ball end at worst aim is never wider than the full radius: what follows is strict for it.
			const back = ahead - (stop - push);
			const grown = aim.mark + growth * (entry - ahead);
			const end =
				drill.tip === "ball" && back < hole.r ? Math.sqrt(Math.max(0, hole.r ** 2 - (hole.r - back) ** 2)) : hole.r;
			inside = Math.max(inside, Math.min(back, end + grown - rho));
		};
		for (let t = 0; t < triangles.length; t += 3) {
			const a = 3 * triangles[t];
			const px = positions[a] - o[0];
			const py = positions[a + 1] - o[1];
			const pz = positions[a + 2] - o[2];
			const ahead = px * d[0] + py * d[1] + pz * d[2];
			// Triangles are under 4 mm across.
			if (ahead < -reach || px * px + py * py + pz * pz - ahead * ahead > (reach + 4) ** 2) continue;
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

	it("gives holes that keep the allowance as aimed and stay out at worst aim, and that cannot go 0.1 mm deeper", () => {
		let checked = 0;
		let tight = 0;
		for (const { target, line } of lines.slice(0, share(600))) {
			const push = pushOf(dot(line.direction, line.face.normal));
			const holdAt = (stop: number) => holdAgainst(target.position, line.direction, line.length, push, stop);
			const { clearance, inside } = holdAt(line.stop);
			expect(clearance).toBeGreaterThan(allowance - 0.02);
			expect(inside).toBeLessThan(0.02);
			// Sampling sees the surface at most a little farther off than it is.
			expect(line.clearance).toBeLessThan(clearance + 1e-6);
			expect(line.clearance).toBeGreaterThan(clearance - 0.05);
			if (line.thin) continue;
			checked++;
			const deeper = holdAt(line.stop - 0.1);
			if (deeper.clearance < allowance || deeper.inside > 0) tight++;
		}
		expect(tight, `${name}: ${tight} of ${checked} stops cannot go 0.1 mm deeper`).toBeGreaterThanOrEqual(
			0.95 * checked,
		);
	});

	/** Directions about a normal, 2° apart, out to `most` degrees. */
	const fan = (normal: Vec3, most: number): Vec3[] => {
		const u = squareTo(normal);
		const v = cross(normal, u);
		const all: Vec3[] = [];
		for (let tilt = 0; tilt <= most + 1e-9; tilt += 2) {
			const around = Math.max(1, Math.round(180 * Math.sin(radians(tilt))));
			for (let k = 0; k < around; k++) {
				const turn = (2 * Math.PI * k) / around;
				const out = along(along([0, 0, 0], u, Math.cos(turn)), v, Math.sin(turn));
				all.push(unit(along(along([0, 0, 0], normal, Math.cos(radians(tilt))), out, Math.sin(radians(tilt)))));
			}
		}
		return all;
	};

	/** Whether a line is permitted and clear, by every vertex and then every triangle. What blocked last is asked first. */
	let latest = 0;
	const isClear = ({ position: o, normal }: DrillTarget, d: Vec3, lies: readonly Lie[]): boolean => {
		const { stone, placement } = setup;
		const inStone = place(placement, o);
		const exit = exitOf(stone, inStone, d);
		if (!exit) return false;
		const square = dot(d, exit.face.normal);
		if (square < Math.cos(radians(LEAN))) return false;
		const end = along(inStone, d, exit.distance + OUTSIDE);
		const workable = lies.some((lie) => {
			const closed = stone.faces.find((face) => face.name === lie.closedFace)!;
			return closed !== exit.face && dot(end, closed.normal) <= closed.offset;
		});
		if (!workable) return false;
		const r = drill.holeRadius;
		const slope = Math.tan(Math.acos(Math.min(1, dot(d, normal))));
		const seen = slope / (1 + growth * slope);
		const secant = Math.hypot(1, slope);
		const sideways = aim.mark + growth * exit.distance;
		const plane =
			drill.tip === "ball"
				? Math.max((allowance + r) * secant - r, r * Math.hypot(1, seen) - r + seen * sideways + pushOf(square))
				: Math.max(allowance * secant + r * slope, seen * (r + sideways) + pushOf(square));
		const stop = Math.min(plane + 2 * r, exit.distance - 0.5);
		if (stop < plane) return false;
		if (exit.distance - allowance + (drill.chuckRadius * leanSine(square)) / square > drill.reach) return false;
		const blocks = (v: number): boolean => {
			const px = positions[3 * v] - o[0];
			const py = positions[3 * v + 1] - o[1];
			const pz = positions[3 * v + 2] - o[2];
			const ahead = px * d[0] + py * d[1] + pz * d[2];
			if (ahead < stop - allowance - pushOf(square)) return false;
			const square2 = px * px + py * py + pz * pz - ahead * ahead;
			const grown = sideways - growth * ahead;
			if (square2 > (r + Math.max(allowance, grown)) ** 2) return false;
			const rho = Math.sqrt(Math.max(0, square2));
			if (offHole(hole, stop, ahead, rho) < allowance) return true;
			const back = ahead - (stop - pushOf(square));
			const radius = drill.tip === "ball" && back < r ? Math.sqrt(Math.max(0, r * r - (r - back) ** 2)) : r;
			return back > 0 && radius + grown > rho;
		};
		if (blocks(latest)) return false;
		for (let v = 0; v < vertices; v++)
			if (blocks(v)) {
				latest = v;
				return false;
			}
		if (setup.index.castRay(along(o, d, 0.5), d, Math.max(0, stop - 0.5))) return false;
		const { clearance, inside } = holdAgainst(o, d, exit.distance, pushOf(square), stop);
		return clearance >= allowance && inside <= 0;
	};

	it("gives the least tilted line: a 2° fan finds none that is 5° less tilted", () => {
		const tilted = lines.filter(({ line }) => line.tiltCosine < Math.cos(radians(7)));
		const checked = tilted.slice(0, share(200));
		const beaten = checked.filter(({ target, line }) => {
			const tilt = (Math.acos(line.tiltCosine) * 180) / Math.PI;
			return fan(target.normal, tilt - 5).some((d) => isClear(target, d, [setup.lies[line.lie]]));
		});
		expect(
			beaten.length,
			`${name}: ${beaten.length} of ${checked.length} tilted lines beaten by 5° in a 2° fan`,
		).toBeLessThanOrEqual(0.05 * checked.length);
	});

	it("lists as undercut only what a 2° fan cannot reach either", () => {
		const checked = undercuts.slice(0, share(150));
		const reached = checked.filter((target) => fan(target.normal, CONE).some((d) => isClear(target, d, setup.lies)));
		expect(
			reached.length,
			`${name}: ${reached.length} of ${checked.length} undercuts reached in a 2° fan`,
		).toBeLessThanOrEqual(0.02 * checked.length);
	});
});
