import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import type { ModelAnswer } from "../../../core/plan/answers.ts";
import { type Commission, newCommission } from "../../../core/plan/commission.ts";
import { createPlanner, openScan } from "../../../core/plan/planner.ts";
import { Refusal } from "../../../core/refusal.ts";
import { memorySource } from "../../../core/scan/source.ts";
import { writeBinaryStl } from "../../../core/scan/writeScan.ts";
import { spherePatch } from "../../support/shapes.ts";

const opened = (name: string) =>
	finish(
		openScan(memorySource(new Uint8Array(readFileSync(new URL(`../../../fixtures/${name}`, import.meta.url)))), name),
	);

/** A box of 300 × 200 × 100 mm without its top. */
const open = opened("open-box.stl");

const withScan = (file: string, scan: Partial<Commission["scan"]>, model: Partial<Commission["model"]> = {}) => {
	const plain = newCommission(file);
	return {
		...plain,
		scan: { ...plain.scan, ...scan },
		model: { ...plain.model, ...model },
		rounds: plain.rounds.slice(0, 2),
	};
};
const stood = (back: Commission["scan"]["back"], model: Partial<Commission["model"]> = {}): ModelAnswer =>
	finish(createPlanner().stand(open, withScan("open-box.stl", { back }, model)));

describe("an open shell with a back", () => {
	it("has the volume that its rim, carried on, encloses, in mm of the stone", () => {
		expect(stood(null)).toMatchObject({ closed: false, volume: null, firstAddedTriangle: 10 });
		const rim = stood({ towards: "rim", distance_mm: 20 });
		expect(rim).toMatchObject({ closed: true, firstAddedTriangle: 10 });
		expect(rim.volume).toBeCloseTo(300 * 200 * 120, 3);
		expect(rim.size).toEqual([300, 200, 120]);
		const twice = stood({ towards: "rim", distance_mm: 20 }, { scale: 2 });
		expect(twice.volume).toBeCloseTo(600 * 400 * 220, 3);
	});

	it("goes to the back and the bed of the model as it stands", () => {
		// Tipped forward by a quarter: what was up looks to the front, so the open side looks to −y.
		const forward = stood({ towards: "rim", distance_mm: 20 }, { stance: [1, 0, 0, 1] });
		expect(forward.size).toEqual([300, 120, 200]);
		const back = stood({ towards: "back", distance_mm: 20 }, { stance: [-1, 0, 0, 1] });
		expect(back.size).toEqual([300, 120, 200]);
		const bed = stood({ towards: "bed", distance_mm: 20 }, { stance: [1, 0, 0, 0] });
		expect(bed.size).toEqual([300, 200, 120]);
		expect(bed.volume).toBeCloseTo(300 * 200 * 120, 3);
	});

	it("is refused where it would go through the carved side, and where nothing is open", () => {
		const code = (run: () => unknown): string => {
			try {
				run();
				return "none";
			} catch (error) {
				return error instanceof Refusal ? error.issue.code : String(error);
			}
		};
		expect(code(() => stood({ towards: "bed", distance_mm: 20 }))).toBe("back.side");
		const box = opened("box.stl");
		const back = { towards: "back", distance_mm: 20 } as const;
		expect(code(() => finish(createPlanner().stand(box, withScan("box.stl", { back }))))).toBe("back.closed");
	});

	it("gets no point and no suggested datum on what was added, and the plan says so", () => {
		// A dome that looks to −y: whatever lies behind its hindmost place, 20 mm before the back, was added.
		const dome = finish(openScan(memorySource(writeBinaryStl(spherePatch(100, 90, { edge: 5 }).mesh)), "dome.stl"));
		const back = { towards: "rim", distance_mm: 20 } as const;
		const commission = withScan("dome.stl", { back });
		const planner = createPlanner();
		const { model, plan, datumSets, waits } = finish(planner.work(dome, commission));
		expect(waits).toEqual([]);
		expect(model?.closed).toBe(true);
		const points = plan?.points ?? [];
		expect(points.length).toBeGreaterThan(20);
		const hindmost = (model as ModelAnswer).size[1] / 2 - 20;
		for (const { model_mm } of points) expect(model_mm[1]).toBeLessThan(hindmost + 1e-6);
		for (const { position } of datumSets[0].places) expect(position[1]).toBeLessThan(hindmost + 1e-6);
		expect(plan?.model.volume_mm3).toBeCloseTo(model?.volume as number, 3);
		expect(plan?.cautions.some((words) => words.includes("back is no part of the scan"))).toBe(true);
		planner.ran();
		finish(planner.work(dome, { ...commission, scan: { ...commission.scan, back: { ...back, distance_mm: 30 } } }));
		expect(planner.ran()).toContain("backing");
	});
});

describe("chosen shells", () => {
	const crumbs = opened("box-and-crumbs.stl");
	const withShells = (keepShells: number[] | null) =>
		finish(
			createPlanner().stand(
				crumbs,
				withScan("box-and-crumbs.stl", { mend: { ...newCommission("f").scan.mend, keepShells } }),
			),
		);

	it("stay alone; all are listed, the largest first, whichever stay", () => {
		const all = withShells(null).shells;
		expect(all.count).toBeGreaterThan(1);
		const [largest, second] = all.shells;
		const alone = withShells([largest.number]);
		expect(alone.volume).toBeCloseTo(300 * 200 * 100, 3);
		expect(alone.shells.count).toBe(all.count);
		const both = withShells([largest.number, second.number]);
		expect(both.health.shells).toBe(2);
		expect(both.mended).toMatchObject([{ choice: "keepShells", before: all.count, after: 2 }]);
		expect(() => withShells([all.count])).toThrow(Refusal);
	});
});
