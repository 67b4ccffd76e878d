/**
 * Every hole of every plan against every triangle of its model, its line against a fan of others, and its undercuts: what a
 * wrong line would do to a stone, looked for the slow and obvious way. The shares are printed.
 */

import { describe, expect, it, vi } from "vitest";
import { aimOf, drillOf } from "../../../core/drilling/drill.ts";
import { finish } from "../../../core/job.ts";
import type { Answers } from "../../../core/plan/answers.ts";
import { type Commission, newCommission } from "../../../core/plan/commission.ts";
import type { Plan, PlanPoint } from "../../../core/plan/planFile.ts";
import { createPlanner, openScan } from "../../../core/plan/planner.ts";
import { memorySource } from "../../../core/scan/source.ts";
import { writeBinaryStl } from "../../../core/scan/writeScan.ts";
import { along, type Vec3 } from "../../../core/vector.ts";
import { bruteCheck, holeOf } from "../../support/bruteHole.ts";
import { demoPlan, seedNames } from "../../support/demoPlans.ts";
import { dragonMesh } from "../../support/dragonMesh.ts";
import { fan, lineTwin, type OtherHole } from "../../support/lineTwin.ts";
import { proving, share } from "../../support/prove.ts";
import { torus } from "../../support/shapes.ts";

// Every triangle of the dragon against a thousand holes, twice over.
vi.setConfig({ testTimeout: 900_000 });

interface Planned {
	readonly commission: Commission;
	readonly answers: Answers;
	readonly plan: Plan;
}

function planned(bytes: Uint8Array, name: string, change: (plain: Commission) => Commission): Planned {
	const commission = change(newCommission(name));
	const answers = finish(createPlanner().work(finish(openScan(memorySource(bytes), name)), commission));
	if (!answers.plan) throw new Error(`no plan: ${JSON.stringify(answers.waits)}`);
	return { commission, answers, plan: answers.plan };
}

/** A ring has ground that faces down and inwards: undercuts are certain. */
const ring = (): Planned =>
	planned(writeBinaryStl(torus(60, 25, { edge: 1.5, seed: 5 }).mesh), "ring.stl", (plain) => ({
		...plain,
		scan: { ...plain.scan, unit: "mm" },
		rounds: plain.rounds.slice(0, 2).map((round) => ({ ...round, tool: { ...round.tool, tip: "pointed" } })),
	}));

/** An open scan, guided by the machine, with burrs, holes by rounds. */
function dragon(): Planned {
	const mesh = dragonMesh(300);
	const { positions } = mesh;
	// Its y points up.
	for (let i = 0; i < positions.length; i += 3)
		[positions[i + 1], positions[i + 2]] = [-positions[i + 2], positions[i + 1]];
	return planned(writeBinaryStl(mesh), "dragon.stl", (plain) => ({
		...plain,
		scan: { ...plain.scan, unit: "mm" },
		transfer: "machine",
		holes: "by rounds",
		rounds: plain.rounds
			.slice(0, 3)
			.map((round) => ({ ...round, tool: { ...round.tool, tip: "ball", action: "diamond" } })),
	}));
}

const CASES: readonly (readonly [string, () => Planned])[] = [
	...seedNames.map((name) => [`the ${name}`, () => demoPlan(name)] as const),
	["a ring, with pointed drills", ring],
	...(proving ? [["the dragon, with burrs and by rounds", dragon] as const] : []),
];

const count = (part: number, of: number): string => `${part} of ${of} (${of ? ((100 * part) / of).toFixed(1) : "–"} %)`;

describe.each(CASES)("%s", (name, make) => {
	const { commission, answers, plan } = make();
	const { model, stone, index } = answers;
	if (!model || !stone || !index) throw new Error("no answers");
	const holes = plan.points.filter((point) => !point.undercut);
	const undercuts = plan.points.filter((point) => point.undercut);
	const target = (point: PlanPoint): { position: Vec3; normal: Vec3 } => ({
		position: point.model_mm,
		normal: point.normal,
	});
	const aim = aimOf(plan.transfer, commission.aim);
	const rules = {
		index,
		stone: stone.stone,
		placement: stone.fit.placement,
		leanDeg: commission.lines.lean_deg,
		outsideMm: commission.lines.outside_mm,
		aim,
	};
	const twins = commission.rounds.map((round, i) => lineTwin(rules, drillOf(round.tool), plan.rounds[i].allowance_mm));
	const lies = plan.lies.map(({ openFaces }) => ({
		name: "",
		closedFace: stone.stone.faces.find((face) => !openFaces.includes(face.name))?.name ?? "",
	}));
	const holeInStone = (point: PlanPoint): OtherHole => ({
		tip: along(point.entry_mm as Vec3, point.line as Vec3, -(point.depth_mm as number)),
		entry: point.entry_mm as Vec3,
		radius: plan.rounds[point.round].tool.radius_mm,
	});
	/** Its floor stands back for the sake of the stone behind it. */
	const isThin = (point: PlanPoint): boolean =>
		point.thickness_mm !== null && point.thickness_mm < 2 * plan.rounds[point.round].tool.drill_mm;

	it("has holes that touch only waste, and none that could go 0.1 mm deeper: every point, every triangle", () => {
		const failures: string[] = [];
		let [free, tight] = [0, 0];
		let [closest, deepest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
		for (const [i, point] of holes.entries()) {
			const { allowance_mm } = plan.rounds[point.round];
			const hole = holeOf(plan, point);
			const { clearance, worstInside } = bruteCheck(model.mesh, hole, plan, point);
			closest = Math.min(closest, clearance - allowance_mm);
			deepest = Math.max(deepest, worstInside);
			if (clearance < allowance_mm - 0.02) failures.push(`${point.number}: clearance ${clearance} of ${allowance_mm}`);
			if (worstInside > 0.02) failures.push(`${point.number}: ${worstInside} mm into the surface at worst aim`);
			if (Math.abs(clearance - Number(point.clearance_mm)) > 0.02)
				failures.push(`${point.number}: clearance ${clearance}, the plan says ${point.clearance_mm}`);
			if (isThin(point) || i % 10 >= (proving ? 10 : 1)) continue;
			free++;
			const tip = hole.tip.map((x, k) => x - 0.1 * hole.out[k]) as unknown as Vec3;
			const deeper = bruteCheck(model.mesh, { ...hole, tip, depth: hole.depth + 0.1 }, plan, point);
			if (deeper.clearance < allowance_mm || deeper.worstInside > 0) tight++;
		}
		console.info(
			`${name}: ${holes.length} holes; least clearance − allowance ${closest.toFixed(4)} mm, deepest at worst aim ${deepest.toFixed(4)} mm; ${count(tight, free)} cannot go 0.1 mm deeper`,
		);
		expect(failures).toEqual([]);
		expect(tight).toBeGreaterThanOrEqual(0.95 * free);
	});

	it("has lines that a 2° fan does not beat by 5°", () => {
		const tilted = holes.filter((point) => (point.tilt_deg as number) > 7);
		const checked = tilted.slice(0, share(tilted.length));
		/** Also counted without the other holes: what the parting of the holes costs in tilt. */
		const beatenAmong = (others: (point: PlanPoint) => OtherHole[]): PlanPoint[] =>
			checked.filter((point) => {
				const apart = others(point);
				return fan(point.normal, (point.tilt_deg as number) - 5).some((d) =>
					twins[point.round].isClear(target(point), d, [lies[point.lie as number]], apart),
				);
			});
		const alone = beatenAmong(() => []);
		const beaten = beatenAmong((point) => holes.filter((other) => other !== point).map(holeInStone));
		// A line tilted by less than 5° cannot be beaten by as much.
		const all = checked.length + share(holes.length - tilted.length);
		console.info(
			`${name}: ${count(all - beaten.length, all)} lines stand, ${count(beaten.length, checked.length)} of those over 7° beaten, ${count(alone.length, checked.length)} were there no other holes`,
		);
		expect(beaten.length).toBeLessThanOrEqual(0.05 * all);
	});

	it("lists as undercuts only what a 2° fan cannot reach", () => {
		const checked = undercuts.slice(0, share(undercuts.length));
		const reached = checked.filter((point) =>
			fan(point.normal, commission.lines.cone_deg).some((d) => twins[point.round].isClear(target(point), d, lies)),
		);
		console.info(`${name}: ${count(checked.length - reached.length, checked.length)} undercuts stand`);
		expect(reached.length).toBeLessThanOrEqual(0.02 * checked.length);
	});

	it("keeps the chuck off the stone, whole, and so off the model in it", () => {
		for (const point of holes) {
			const round = commission.rounds[point.round];
			const { chuck_mm, reach_mm } = round.tool;
			const face = stone.stone.faces.find((one) => one.name === point.face);
			const line = point.line as Vec3;
			const out = face?.normal as Vec3;
			const square = line[0] * out[0] + line[1] * out[1] + line[2] * out[2];
			// The chuck's face stands `reach` behind the tip; its lowest place leans towards the skin.
			const over = (reach_mm - (point.depth_mm as number)) * square - (chuck_mm / 2) * Math.sqrt(1 - square * square);
			expect(over).toBeGreaterThanOrEqual(-1e-6);
		}
	});

	it("has undercuts with what blocks them on the model's surface", () => {
		for (const { blockedAt_mm } of undercuts) {
			if (!blockedAt_mm) continue;
			expect(index.closestPoint(blockedAt_mm)?.distance).toBeLessThan(1e-3);
		}
	});
});
