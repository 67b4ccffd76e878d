/** A hole from the paper alone: what the table prints must be enough to drill it, and err on the side that leaves stone. */

import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import type { PlanPoint } from "../../../core/plan/planFile.ts";
import { drawSheets } from "../../../core/sheet/drawSheets.ts";
import { sheetInputOf } from "../../../core/sheet/sheetInput.ts";
import { demoPlan, seedNames } from "../../support/demoPlans.ts";
import { handPlan } from "../../support/handPlan.ts";
import { proving } from "../../support/prove.ts";
import { type PdfPageRead, type PdfText, readPdf } from "../../support/readPdf.ts";
import { sheetFonts } from "../../support/sheetFonts.ts";

/** Axes of a face as it is worked at: along u, along v, out of the stone; and the plane it lies in (handbook 16). */
const FACES: Record<string, { u: number[]; v: number[]; out: number[]; at: (block: number[]) => number[] }> = {
	front: { u: [1, 0, 0], v: [0, 0, 1], out: [0, -1, 0], at: () => [0, 0, 0] },
	back: { u: [1, 0, 0], v: [0, 0, 1], out: [0, 1, 0], at: (b) => [0, b[1], 0] },
	left: { u: [0, 1, 0], v: [0, 0, 1], out: [-1, 0, 0], at: () => [0, 0, 0] },
	right: { u: [0, 1, 0], v: [0, 0, 1], out: [1, 0, 0], at: (b) => [b[0], 0, 0] },
	top: { u: [1, 0, 0], v: [0, 1, 0], out: [0, 0, 1], at: (b) => [0, 0, b[2]] },
	bed: { u: [1, 0, 0], v: [0, 1, 0], out: [0, 0, -1], at: () => [0, 0, 0] },
};

const MM = { mm: 1, in: 25.4 };
/** What the last printed digit of u and v stands for, in the unit of the sheet. */
const STEP = { mm: 0.1, in: 0.01 };
const number = (words: string): number => Number(words.replace("−", "-").replace("+", ""));
const tan = (deg: number): number => Math.tan((deg * Math.PI) / 180);

/** The rows of the tables with the face that is named over them, as words from left to right. */
function tableRows(pages: readonly PdfPageRead[]): { face: string; words: string[] }[] {
	const found: { face: string; words: string[] }[] = [];
	for (const page of pages.filter((p) => p.texts.some((t) => t.words === "Tables"))) {
		let face = "";
		const rows = new Map<number, PdfText[]>();
		for (const t of page.texts) rows.set(Math.round(t.y * 10), [...(rows.get(Math.round(t.y * 10)) ?? []), t]);
		for (const [, row] of [...rows].sort((a, b) => a[0] - b[0])) {
			const words = row.sort((a, b) => a.x - b.x).map((t) => t.words);
			const heads = /· (\w+) face\b/.exec(words.join(" "));
			if (heads) face = heads[1];
			if (/^\d+$/.test(words[0]) && words.length >= 10) found.push({ face, words });
		}
	}
	return found;
}

/** Drills one row (number, map page, u, v, two leans, depth) by the printed figures alone and compares it with the plan. */
function drill(
	point: PlanPoint,
	block: number[],
	{ face, words }: { face: string; words: string[] },
	units: "mm" | "in",
) {
	if (!point.line || !point.entry_mm || point.depth_mm === null) throw new Error(`no line for ${point.number}`);
	const mm = MM[units];
	const [, , u, v, leanU, leanV] = words.map(number);
	expect(point.face).toBe(face);
	const f = FACES[face];
	const way = [0, 1, 2].map((k) => f.out[k] + tan(leanU) * f.u[k] + tan(leanV) * f.v[k]);
	const length = Math.hypot(...way);
	const line = way.map((c) => c / length);
	const cosine = line.reduce((sum, c, k) => sum + c * (point.line as number[])[k], 0);
	expect((Math.acos(Math.min(1, cosine)) * 180) / Math.PI).toBeLessThan(0.5);
	const depth = number(words[6]) * mm;
	const tip = [0, 1, 2].map((k) => f.at(block)[k] + mm * (u * f.u[k] + v * f.v[k]) - depth * line[k]);
	const meant = [0, 1, 2].map(
		(k) => (point.entry_mm as number[])[k] - (point.depth_mm as number) * (point.line as number[])[k],
	);
	expect(Math.hypot(...tip.map((c, k) => c - meant[k]))).toBeLessThan(1);
	expect(depth).toBeLessThanOrEqual(point.depth_mm + 1e-6);
	// The tip is deeper by no more than half a printed step of u and of v comes to along the line.
	const deeper = meant.reduce((sum, c, k) => sum + (c - tip[k]) * line[k], 0);
	const rounding = (STEP[units] / 2) * mm * (Math.abs(way[0]) + Math.abs(way[1]) + Math.abs(way[2]) - 1);
	expect(deeper).toBeLessThan(rounding / length + 1e-3);
}

describe("from the table's figures alone every line comes out to 0.5° and every tip to 1 mm, never deeper", () => {
	it.each([
		{ transfer: "faces", units: "mm", seed: 31 },
		{ transfer: "faces", units: "in", seed: 32 },
		{ transfer: "callipers", units: "mm", seed: 33 },
		{ transfer: "straightedge", units: "mm", seed: 34 },
	] as const)("$transfer, $units", async ({ transfer, units, seed }) => {
		const { plan, ...rest } = handPlan({ seed, points: 120, rings: 30, transfer, units });
		const { pages } = await readPdf(finish(drawSheets({ plan, ...rest, fonts: sheetFonts() })).pdf);
		const rows = tableRows(pages);
		const column = transfer === "faces" ? 9 : 7;
		for (const row of rows) {
			const point = plan.points.find((p) => p.number === Number(row.words[0])) as PlanPoint;
			const words = [...row.words.slice(0, 6), row.words[column]];
			drill(point, [...plan.stone.extent_mm], { ...row, words }, units);
			if (transfer !== "faces") continue;
			// So far out, square to the face, the line stands that far off to the side.
			const out = units === "mm" ? 100 : 4;
			const half = STEP[units] / 2 + 1e-3;
			for (const k of [0, 1])
				expect(Math.abs(number(row.words[6 + k]) - out * tan(number(row.words[4 + k])))).toBeLessThan(half);
		}
		const drilled = rows.map((row) => Number(row.words[0]));
		expect(drilled.sort((a, b) => a - b)).toEqual(plan.points.filter((p) => p.line).map((p) => p.number));
	});

	it.runIf(proving).each(seedNames)("%s", { timeout: 240_000 }, async (name) => {
		const { answers, plan } = demoPlan(name);
		const input = sheetInputOf(answers, sheetFonts());
		if (!input) throw new Error("no plan");
		const { pages } = await readPdf(finish(drawSheets(input)).pdf);
		const rows = tableRows(pages);
		for (const row of rows) {
			const point = plan.points.find((p) => p.number === Number(row.words[0])) as PlanPoint;
			drill(point, [...plan.stone.extent_mm], { ...row, words: [...row.words.slice(0, 6), row.words[9]] }, "mm");
		}
		expect(rows.length).toBe(plan.points.filter((p) => p.line).length);
	});
});
