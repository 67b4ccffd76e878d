/** A hole from the paper alone: what the table prints must be enough to drill it, and err on the side that leaves stone. */

import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { drawSheets } from "../../../core/sheet/drawSheets.ts";
import { handPlan } from "../../support/handPlan.ts";
import { readPdf } from "../../support/readPdf.ts";
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

const number = (words: string): number => Number(words.replace("−", "-").replace("+", ""));

describe("from the table's figures alone", () => {
	it("every line comes out to 0.5° and every tip to 1 mm, never deeper than planned", async () => {
		const { plan, ...rest } = handPlan({ seed: 31, points: 120, rings: 30 });
		const { pages } = await readPdf(finish(drawSheets({ plan, ...rest, fonts: sheetFonts() })).pdf);
		const found = new Set<number>();
		for (const page of pages.filter((p) => p.texts.some((t) => t.words === "Tables"))) {
			let face = "";
			const rows = new Map<number, typeof page.texts>();
			for (const t of page.texts) rows.set(Math.round(t.y * 10), [...(rows.get(Math.round(t.y * 10)) ?? []), t]);
			for (const [, row] of [...rows].sort((a, b) => a[0] - b[0])) {
				const words = row.sort((a, b) => a.x - b.x).map((t) => t.words);
				const heads = /· (\w+) face$/.exec(words.join(" "));
				if (heads) face = heads[1];
				if (!/^\d+$/.test(words[0]) || words.length < 11) continue;
				const [n, u, v, leanU, leanV, outU, outV, , depth] = words.map(number);
				const point = plan.points.find((p) => p.number === n);
				if (!point?.line || !point.entry_mm || point.depth_mm === null) throw new Error(`no point ${n}`);
				expect(point.face).toBe(face);
				const f = FACES[face];
				const corner = f.at([...plan.stone.extent_mm]);
				const tan = (deg: number): number => Math.tan((deg * Math.PI) / 180);
				const way = [0, 1, 2].map((k) => f.out[k] + tan(leanU) * f.u[k] + tan(leanV) * f.v[k]);
				const length = Math.hypot(...way);
				const line = way.map((c) => c / length);
				const cosine = line.reduce((sum, c, k) => sum + c * (point.line as number[])[k], 0);
				expect((Math.acos(Math.min(1, cosine)) * 180) / Math.PI).toBeLessThan(0.5);
				// 100 mm out, square to the face, the line stands that far off to the side.
				expect(Math.abs(outU - 100 * tan(leanU))).toBeLessThan(0.051);
				expect(Math.abs(outV - 100 * tan(leanV))).toBeLessThan(0.051);
				const tip = [0, 1, 2].map((k) => corner[k] + u * f.u[k] + v * f.v[k] - depth * line[k]);
				const meant = [0, 1, 2].map(
					(k) => (point.entry_mm as number[])[k] - (point.depth_mm as number) * (point.line as number[])[k],
				);
				expect(Math.hypot(...tip.map((c, k) => c - meant[k]))).toBeLessThan(1);
				const deeper = meant.reduce((sum, c, k) => sum + (c - tip[k]) * line[k], 0);
				expect(deeper).toBeLessThan(0.08);
				expect(depth).toBeLessThanOrEqual(point.depth_mm + 1e-6);
				found.add(n);
			}
		}
		expect([...found].sort((a, b) => a - b)).toEqual(plan.points.filter((p) => p.line).map((p) => p.number));
	});
});
