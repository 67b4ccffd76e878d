/** Yard page, seats, lists, added views, revision and units: what stands on each, read back from the PDF. */

import { beforeAll, describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import type { PlanPoint } from "../../../core/plan/planFile.ts";
import { drawSheets, type Sheets } from "../../../core/sheet/drawSheets.ts";
import { threeAround } from "../../../core/sheet/neighbours.ts";
import { PAPER_SIZES } from "../../../core/sheet/paper.ts";
import { hints, sideWords } from "../../../core/sheet/pointColumns.ts";
import { groupPoints, pointTables } from "../../../core/sheet/pointTables.ts";
import { readFonts } from "../../../core/sheet/sheetPdf.ts";
import { sentenceIn } from "../../../core/text/format.ts";
import type { Vec3 } from "../../../core/vector.ts";
import { type HandPlan, handPlan } from "../../support/handPlan.ts";
import { type PdfPageRead, type PdfRead, readPdf } from "../../support/readPdf.ts";
import { sheetFonts } from "../../support/sheetFonts.ts";

const fonts = sheetFonts();
const draw = (hand: HandPlan): Sheets => finish(drawSheets({ ...hand, fonts }));
const titled = (pdf: PdfRead, title: string): PdfPageRead[] =>
	pdf.pages.filter((p) => p.texts.some((t) => t.words === title));
const contentOf = (pages: readonly PdfPageRead[]): string =>
	pages
		.map((p) => p.content)
		.join(" ")
		.replace(/\s+/g, " ");

describe("what stands on the pages", () => {
	let hand: HandPlan;
	let pdf: PdfRead;
	beforeAll(async () => {
		hand = handPlan({ seed: 14, points: 40, rings: 24, transfer: "machine" });
		Object.assign(hand.plan.sheet, { revision: "C", supersedes: "B", changes: "the block was measured at delivery" });
		pdf = await readPdf(
			finish(
				drawSheets({ ...hand, fonts, least: { sides: [251.4, 231.2, 401], sawn: [260, 240, 410], certified: true } }),
			).pdf,
		);
	}, 60_000);

	it("cover: what the revision supersedes and what changed; the proof is for the sizes given", () => {
		const words = contentOf(titled(pdf, "Cover"));
		expect(words).toContain("Supersedes B");
		expect(words).toContain("What changed: the block was measured at delivery");
		expect(words).toContain("proved for the sizes given");
		expect(words).toContain("marked corner");
		// The gaps stand in the drawing itself: from every face to the outermost vertex, in the two views eight of them.
		const figures = titled(pdf, "Cover").flatMap((p) => p.texts.map((t) => t.words));
		for (const k of [0, 1, 2]) {
			const along = hand.mesh.positions.filter((_, i) => i % 3 === k);
			const moved = hand.plan.stone.placement.translation[k];
			const least = along.reduce((a, b) => Math.min(a, b)) + moved;
			const most = hand.plan.stone.extent_mm[k] - moved - along.reduce((a, b) => Math.max(a, b));
			for (const gap of [least, most]) expect(figures).toContain(gap.toFixed(1));
		}
	});

	it("yard page: one page with least block, weight dry and wet, bed, way up, slings", () => {
		const pages = titled(pdf, "For the yard");
		expect(pages.length).toBe(1);
		const words = contentOf(pages);
		for (const w of [
			"251.4 × 231.2 × 401.0",
			"Weight dry",
			"Weight wet",
			"Natural bed",
			"Way up",
			"Slings",
			"No crack",
		])
			expect(words).toContain(w);
		// Marble takes up 0.2 % of its mass at most (ASTM C503 by way of stoneKinds): 260 × 240 × 420 mm at 2800 kg/m³.
		expect(words).toContain(`up to ${(Math.round(0.26 * 0.24 * 0.42 * 2800 * 1.002 * 2) / 2).toFixed(1)}`);
	});

	it("yard page: the bed, the flaws and the places to be kept sound are the commission's own where it has any", async () => {
		const words = contentOf(titled(pdf, "For the yard"));
		expect(words).toContain("common practice; none was entered");
		const own = handPlan({ seed: 14, points: 12, rings: 12 });
		Object.assign(own.plan.stone, {
			// Tilted by 30° towards the left: sine and cosine in closed form.
			bed_normal: [-0.5, 0, Math.sqrt(3) / 2],
			bed_deg: 30,
			keepSound_mm: [[100, 100, 200]],
			flaws: [
				{ name: "rust", plane: [1, 0, 0, 50], thickness_mm: 2, crossing_mm2: 1234, thin: true, sound_mm: [49, 12.5] },
				{ name: "vein", plane: [1, 0, 0, 2], thickness_mm: 2, crossing_mm2: 0, thin: false, sound_mm: [97, 96] },
			],
		});
		const ownWords = contentOf(titled(await readPdf(draw(own).pdf), "For the yard"));
		for (const w of [
			"30.0° out of level in this stone",
			"Flaw rust",
			"12 cm² of the figure, at a thin part; 12.5 mm from the nearest",
			"Flaw vein",
			"passes by the figure; 96.0 mm",
			"Red rings",
		])
			expect(ownWords).toContain(w);
		expect(ownWords).not.toContain("none was entered");
	});

	it("seats come before everything that is measured from them, with the three lengths between them", () => {
		const titles = pdf.bookmarks;
		expect(titles.indexOf("Seats and faces")).toBeLessThan(titles.indexOf("Map: seen from the front"));
		const words = contentOf(titled(pdf, "Seats and faces"));
		for (const d of hand.plan.datumSets[0].datums) expect(words).toContain(d.depth_mm.toFixed(1));
		for (const s of hand.plan.datumSets[0].sides_mm) expect(words).toContain(s.toFixed(1));
	});

	it("tables have a bookmark for each group", () => {
		expect(pdf.under.get("Tables")).toEqual(groupPoints(hand.plan).map((g) => g.words));
	});

	it("undercuts are found by three lengths from drilled points around them, and by the block's faces", () => {
		const words = contentOf(titled(pdf, "Undercuts and places by eye"));
		const undercuts = hand.plan.points.filter((p) => p.undercut);
		expect(undercuts.length).toBeGreaterThan(0);
		for (const p of undercuts) {
			const around = threeAround(hand.plan, p.model_mm as Vec3);
			expect(around.length).toBe(3);
			for (const { point, away } of around) {
				expect(point.line).not.toBeNull();
				expect(away).toBeCloseTo(Math.hypot(...p.model_mm.map((c, k) => c - point.model_mm[k])), 9);
				expect(words).toContain(`${away.toFixed(1)} mm from ${point.number}`);
			}
			// The trial plan's placement only shifts.
			const stone = p.model_mm.map((c, k) => c + hand.plan.stone.placement.translation[k]);
			for (const c of stone) expect(words).toContain(c.toFixed(1));
		}
	});
});

describe("a view that the carver added", () => {
	it("has its own map with what is seen from there, and the others keep theirs", async () => {
		const hand = handPlan({ seed: 15, points: 40, rings: 24 });
		const before = draw(hand);
		hand.plan.sheet.views = [{ name: "the brow", towards: [1, -2, 0.5] }];
		const sheets = draw(hand);
		expect(sheets.maps.map((m) => m.name).filter((n) => n.startsWith("view-a")).length).toBeGreaterThan(0);
		expect(sheets.maps.length).toBeGreaterThan(before.maps.length);
		const pdf = await readPdf(sheets.pdf);
		const page = pdf.pages.find((p) => p.texts.some((t) => t.words.startsWith("Map: the brow"))) as PdfPageRead;
		// atan(1/2) = 26.6° to the right of the front; asin(0.5/√5.25) = 12.6° up.
		expect(page.content).toContain("from the front, 27° to the right, 13° from above");
		// What faces away from the viewer cannot be on it.
		const numbers = page.texts.filter((t) => t.size > 5.4 && /^\d+$/.test(t.words)).map((t) => Number(t.words));
		expect(numbers.length).toBeGreaterThan(0);
		for (const n of numbers) {
			const { normal } = hand.plan.points.find((p) => p.number === n) as PlanPoint;
			expect(normal[0] - 2 * normal[1] + 0.5 * normal[2]).toBeGreaterThan(0);
		}
		// Looking along an axis, an added view is the side's own.
		hand.plan.sheet.views = [{ name: "front again", towards: [0, -3, 0] }];
		const again = draw(hand);
		const lines = (name: string): string[] =>
			(again.maps.find((m) => m.name === name)?.svg ?? "")
				.split("\n")
				.filter((l) => l.startsWith('<path d="M') && l.length > 2000);
		expect(lines("view-a")).toEqual(lines("front"));
	});
});

describe("contour step and units", () => {
	it("contour lines stand as far apart as was asked", async () => {
		const hand = handPlan({ seed: 16, points: 20, rings: 24 });
		hand.plan.sheet.contour_mm = 4;
		const pdf = await readPdf(draw(hand).pdf);
		expect(contentOf(pdf.pages)).toContain("contour lines every 4.0 mm");
	});

	it("in inches no length is left in millimetres but the bars on the paper", async () => {
		const hand = handPlan({ seed: 17, points: 40, rings: 24, units: "in" });
		hand.plan.cautions = ["84 points stand over parts under 15 mm thick."];
		const pdf = await readPdf(draw(hand).pdf);
		const words = pdf.pages.flatMap((p) => p.texts.map((t) => t.words)).filter((w) => /\d\s?mm\b/.test(w));
		expect(words.filter((w) => !w.startsWith("100 mm on the paper"))).toEqual([]);
		expect(contentOf(pdf.pages)).toContain("4 in out");
		expect(sentenceIn("in", "under 15 mm thick, 25.4 mm wide")).toMatch(/^under 0\.59.in thick, 1\.00.in wide$/);
	});
});

describe("tables for other hands", () => {
	it("lists only the points that are asked for (a sheet of what is left)", async () => {
		const { plan } = handPlan({ seed: 18, points: 40, rings: 16 });
		const left = plan.points.filter((p) => p.number % 3 === 0);
		const { pageOf } = pointTables(readFonts(fonts), plan, PAPER_SIZES.A4, { points: left });
		expect([...pageOf.keys()].sort((a, b) => a - b)).toEqual(left.filter((p) => p.line).map((p) => p.number));
	});

	it("callipers: the side of the datums' plane as the plan has it, and no trust near it", () => {
		const { plan } = handPlan({ seed: 19, points: 60, rings: 16, transfer: "callipers" });
		const [point] = plan.points.filter((p) => p.line !== null);
		expect(sideWords({ ...point, calliperSide: "front", calliperUnreliable: false })).toBe("front");
		expect(sideWords({ ...point, calliperSide: "top", calliperUnreliable: true })).toBe("top ?");
	});

	it("hints: by eye, thin, close to another hole", () => {
		const { plan } = handPlan({ seed: 20, points: 20, rings: 16 });
		plan.crossings = [{ points: [4, 7], web_mm: 0.3 }];
		const p = plan.points[6];
		expect(hints(plan, { ...p, byEye: true, thickness_mm: 9 })).toBe("eye, thin, by 4");
		plan.transfer = "machine";
		const seat = plan.datumSets[0].datums[1];
		const through = { ...p, byEye: false, entry_mm: [seat.stone_mm[0] + 20, seat.stone_mm[1], seat.stone_mm[2] + 14] };
		const hole = { ...through, line: [1, 0, 0], depth_mm: 40, thickness_mm: 90, number: 99 } as PlanPoint;
		expect(hints(plan, hole)).toBe(`at ${seat.name}`);
		expect(hints(plan, { ...hole, depth_mm: 1 })).toBe("");
		expect(hints(plan, { ...plan.points[0], line: null, byEye: false, thickness_mm: 90 })).toBe("");
	});
});
