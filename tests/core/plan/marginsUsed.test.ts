import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { newCommission } from "../../../core/plan/commission.ts";
import { marginsUsed, orUsual, stoneWith } from "../../../core/plan/marginsUsed.ts";
import { createPlanner, openScan } from "../../../core/plan/planner.ts";
import { memorySource } from "../../../core/scan/source.ts";

const scan = finish(
	openScan(
		memorySource(new Uint8Array(readFileSync(new URL("../../../fixtures/box.stl", import.meta.url)))),
		"box.stl",
	),
);
const plain = newCommission("box.stl");
type Described = typeof plain.stone;

/** Margins that the fit of a stone so described really kept, mm. */
function kept(stone: Described): number[] {
	const answers = finish(createPlanner().work(scan, { ...plain, stone }));
	return (answers.stone?.fit.gaps ?? []).map((gap) => gap.margin);
}

it("a block that is typed, or taken in any other way, is fitted with the margins that were used before it", () => {
	const before = plain.stone;
	expect(kept(before)).toEqual([25, 25, 25, 25, 25, 25]);
	const typed = stoneWith(before, { block_mm: [400, 300, 200] });
	expect(kept(typed)).toEqual(kept(before));
	expect(typed.margins_mm).toEqual(marginsUsed(before));
	for (const given of ["measured", "planes", "scan"] as const)
		expect(stoneWith(before, { given }).margins_mm).toEqual(marginsUsed(before));
});

it("a margin of the carver's own is used as it is, before the block and after", () => {
	const own = stoneWith(plain.stone, { margins_mm: { ...marginsUsed(plain.stone), bed: 0, top: 10 } });
	expect(kept(own).sort((a, b) => a - b)).toEqual([0, 10, 25, 25, 25, 25]);
	const typed = stoneWith(own, { block_mm: [400, 300, 200] });
	expect(kept(typed)).toEqual(kept(own));
});

it("an older document with a block and no margins keeps none, and a later change of the block adds none", () => {
	const old = { ...plain.stone, block_mm: [400, 300, 200] as [number, number, number] };
	expect(kept(old)).toEqual([0, 0, 0, 0, 0, 0]);
	expect(stoneWith(old, { block_mm: [410, 300, 200] }).margins_mm).toEqual(old.margins_mm);
	expect(Object.values(orUsual(old.margins_mm))).toEqual([25, 25, 25, 25, 25, 25]);
});
