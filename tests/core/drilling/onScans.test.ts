/**
 * Lines, stops and undercuts on real and on seed scans, against plain loops over every vertex or triangle that share no
 * code with the search: geometry from `holeGeometry.ts`, directions from a 2° fan of their own.
 */

import { describe, expect, it } from "vitest";
import { type Aim, aimOf, type Drill, drillOf } from "../../../core/drilling/drill.ts";
import { type DrillLine, type DrillTarget, isUndercut, type Undercut } from "../../../core/drilling/drillLine.ts";
import { createLineSearch, type LineSearchSetup } from "../../../core/drilling/lineSearch.ts";
import { finish } from "../../../core/job.ts";
import { toolSchema } from "../../../core/plan/commission.ts";
import { seededRandom } from "../../../core/random.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { stoneOf } from "../../../core/stone/block.ts";
import { buildSurfaceIndex } from "../../../core/surface/surfaceIndex.ts";
import { cross, dot, IDENTITY, sub, unit, type Vec3 } from "../../../core/vector.ts";
import { demoMesh } from "../../support/demoPlans.ts";
import { dragonMesh } from "../../support/dragonMesh.ts";
import { fan, lineTwin } from "../../support/lineTwin.ts";
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
		mesh: demoMesh("owl"),
		open: false,
		aim: aimOf("faces"),
		drill: drillOf(toolSchema.parse({ drill_mm: 4 })),
		allowance: 2,
	}),
	() => ({
		name: "the leaf face, guided by the machine, with a burr",
		mesh: demoMesh("leaf-face"),
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
		lies: (open ? ["back", "bed"] : ["bed", "back"]).map((closedFace) => ({ name: closedFace, closedFace })),
		coneDeg: CONE,
		leanDeg: LEAN,
		outsideMm: OUTSIDE,
		aim,
	};
	const search = createLineSearch(setup);
	const normals = vertexNormals(mesh);
	const { positions } = mesh;
	const vertices = positions.length / 3;

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

	const { pushOf, holdAgainst, isClear } = lineTwin(setup, drill, allowance);

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
