import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { benchSheet } from "../../../core/bench/benchRows.ts";
import { finish } from "../../../core/job.ts";
import { newCommission } from "../../../core/plan/commission.ts";
import { createPlanner, openScan } from "../../../core/plan/planner.ts";
import { memorySource } from "../../../core/scan/source.ts";
import { writeBinaryStl } from "../../../core/scan/writeScan.ts";
import { isInOutline, sawnGround } from "../../../core/sheet/sawnGround.ts";
import { eggMesh } from "../../renderer/egg.ts";

const scan = finish(openScan(memorySource(writeBinaryStl(eggMesh(7))), "egg.stl"));
const plain = newCommission("egg.stl");
const half = Math.SQRT1_2;
const box = finish(
	openScan(
		memorySource(new Uint8Array(readFileSync(new URL("../../../fixtures/box.stl", import.meta.url)))),
		"box.stl",
	),
);

function planned() {
	const first = finish(createPlanner().work(scan, { ...plain, transfer: "faces", rounds: plain.rounds.slice(0, 2) }));
	const [, width, height] = first.stone?.block ?? [0, 0, 0];
	// The front top edge goes, and with it the zero corner of the top.
	const reach = 0.1 * Math.min(width, height);
	const own = [
		{ normal: [0, -half, half] as [number, number, number], offset_mm: half * (height - reach), skipped: false },
	];
	const asked = {
		...plain,
		transfer: "faces" as const,
		rounds: plain.rounds.slice(0, 2),
		stone: { ...plain.stone, block_mm: first.stone?.block as [number, number, number] },
		cuts: { ...plain.cuts, own },
	};
	const { plan } = finish(createPlanner().work(scan, asked));
	if (!plan) throw new Error("no plan");
	return plan;
}

it("every point that is measured on a face finds that face drawn, also those of a cut, within what is left and never negative", () => {
	const plan = planned();
	expect(plan.cuts.map((cut) => cut.name)).toEqual(["cut 1"]);
	const sheet = benchSheet(plan);
	const entries = sheet.rows.flatMap((row) => (row.entry ? [row.entry] : []));
	expect(entries.length).toBeGreaterThan(20);
	expect(entries.some(({ face }) => face === "cut 1")).toBe(true);
	for (const { face, u, v } of entries) {
		const drawn = sheet.faces.find(({ name }) => name === face);
		if (!drawn) throw new Error(`no drawing of ${face}`);
		expect(Math.min(u, v)).toBeGreaterThanOrEqual(0);
		expect(isInOutline(drawn.sawn?.left ?? drawn.outline, u, v)).toBe(true);
	}
});

it("the sawn ground of front and top is told, with the cut that takes the top's zero corner", () => {
	const plan = planned();
	const of = (name: string) => {
		const face = plan.stone.faces.find((f) => f.name === name);
		return face ? sawnGround(plan, face) : undefined;
	};
	expect(of("top")?.zeroBy).toBe("cut 1");
	expect(of("front")?.zeroBy).toBeNull();
	expect(of("front")?.left).toHaveLength(4);
	// The ends of the front and top edge lose a corner each; the bed and the back lose nothing.
	expect(of("left")?.left).toHaveLength(5);
	expect([of("bed"), of("back")]).toEqual([null, null]);
	const drawn = benchSheet(plan).faces.find(({ name }) => name === "top");
	expect(drawn?.sawn?.words).toContain("zero goes with cut 1: measure from the scribed axes");
});

it("a plan without cuts draws no sawn ground", () => {
	const { plan } = finish(createPlanner().work(box, { ...newCommission("box.stl"), rounds: plain.rounds.slice(0, 1) }));
	if (!plan) throw new Error("no plan");
	expect(benchSheet(plan).faces.map(({ sawn }) => sawn)).toEqual([null, null, null, null, null, null]);
});
