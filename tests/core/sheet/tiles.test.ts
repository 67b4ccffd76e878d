/** Drawings over several sheets, put together again by their register marks as a carver does with scissors and tape. */

import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import { cutOut } from "../../../core/sheet/clip.ts";
import { newDrawing, type Shape } from "../../../core/sheet/drawing.ts";
import { drawFullSizeMaps } from "../../../core/sheet/fullSizeMaps.ts";
import { readFonts } from "../../../core/sheet/sheetPdf.ts";
import { drawTemplates } from "../../../core/sheet/templates.ts";
import { handPlan } from "../../support/handPlan.ts";
import { type PdfPageRead, readPdf } from "../../support/readPdf.ts";
import { sheetFonts } from "../../support/sheetFonts.ts";

const files = sheetFonts();
const fonts = readFonts(files);

const linesOf = (shape: Shape): number[][] => (shape.kind === "lines" ? shape.lines.map((l) => Array.from(l)) : []);
const lengthOf = ([ax, ay, bx, by]: number[]): number => Math.hypot(bx - ax, by - ay);

describe("cutting a rectangle out of a drawing", () => {
	const window = { x: 10, y: 10, width: 20, height: 20 };
	const cut = (shape: Shape): Shape[] => {
		const drawing = newDrawing(100, 100, "");
		drawing.shapes.push(shape);
		return cutOut(fonts, drawing, window);
	};
	const pen = { colour: "#000000", width: 0.2 };

	it("cuts a line at both edges", () => {
		expect(cut({ kind: "lines", lines: [[0, 20, 50, 20]], pen })).toMatchObject([{ lines: [[10, 20, 30, 20]] }]);
	});
	it("parts a line that leaves and comes back", () => {
		const [shape] = cut({ kind: "lines", lines: [[15, 15, 15, 5, 25, 5, 25, 15]], pen });
		expect(shape).toMatchObject({
			lines: [
				[15, 15, 15, 10],
				[25, 10, 25, 15],
			],
		});
	});
	it("cuts the corner off a polygon", () => {
		const [shape] = cut({ kind: "lines", lines: [[20, 20, 40, 20, 40, 40, 20, 40]], closed: true, fill: "#ffffff" });
		const [line] = linesOf(shape);
		expect(new Set(line)).toEqual(new Set([20, 30]));
	});
	it("keeps what lies inside, drops what lies outside, in 500 seeded segments", () => {
		const random = seededRandom(5);
		for (let i = 0; i < 500; i++) {
			const [ax, ay, bx, by] = Array.from({ length: 4 }, () => random.next() * 40);
			const shapes = cut({ kind: "lines", lines: [[ax, ay, bx, by]], pen });
			const inside = (t: number): boolean => {
				const [x, y] = [ax + t * (bx - ax), ay + t * (by - ay)];
				return x >= 10 && x <= 30 && y >= 10 && y <= 30;
			};
			let share = 0;
			for (let k = 0; k < 2000; k++) if (inside((k + 0.5) / 2000)) share += 1 / 2000;
			const kept = shapes.length === 0 ? 0 : lengthOf(linesOf(shapes[0])[0]);
			expect(Math.abs(kept - share * Math.hypot(bx - ax, by - ay))).toBeLessThan(0.08);
		}
	});
});

interface Cross {
	readonly x: number;
	readonly y: number;
	readonly arm: number;
}

/** Crosses of a page: a level and an upright line of one length about one middle. */
function crosses(page: PdfPageRead): Cross[] {
	const level = page.lines.filter((l) => Math.abs(l[1] - l[3]) < 1e-3 && Math.abs(l[0] - l[2]) < 20);
	const upright = page.lines.filter((l) => Math.abs(l[0] - l[2]) < 1e-3 && Math.abs(l[1] - l[3]) < 20);
	return level.flatMap((h) =>
		upright
			.filter(
				(v) =>
					Math.abs(v[0] - (h[0] + h[2]) / 2) < 0.01 &&
					Math.abs(h[1] - (v[1] + v[3]) / 2) < 0.01 &&
					Math.abs(Math.abs(h[0] - h[2]) - Math.abs(v[1] - v[3])) < 0.01,
			)
			.map((v) => ({ x: v[0], y: h[1], arm: Math.abs(h[0] - h[2]) / 2 })),
	);
}

/** Where each page of one drawing lies beside its first, found from lettered register marks alone. */
function assemble(pages: readonly PdfPageRead[]): { page: PdfPageRead; dx: number; dy: number }[] {
	const marks = pages.map((page) => {
		const found = new Map<string, Cross>();
		for (const c of crosses(page).filter((x) => Math.abs(x.arm - 4) < 0.01)) {
			const letter = page.texts.find((t) => Math.abs(t.x - c.x - 1) < 0.05 && Math.abs(t.y - c.y + 1) < 0.05);
			if (letter) found.set(letter.words, c);
		}
		return found;
	});
	const placed = new Map<number, { dx: number; dy: number }>([[0, { dx: 0, dy: 0 }]]);
	for (let grown = true; grown; ) {
		grown = false;
		for (const [i, at] of [...placed])
			marks.forEach((other, j) => {
				if (placed.has(j)) return;
				const letter = [...other.keys()].find((k) => marks[i].has(k));
				if (letter === undefined) return;
				const [a, b] = [marks[i].get(letter) as Cross, other.get(letter) as Cross];
				placed.set(j, { dx: at.dx + a.x - b.x, dy: at.dy + a.y - b.y });
				grown = true;
			});
	}
	expect(placed.size).toBe(pages.length);
	// Both marks of a seam must agree, or the sheets could be turned against one another.
	for (const [i, at] of placed)
		for (const [j, bt] of placed)
			for (const [letter, a] of marks[i]) {
				const b = marks[j].get(letter);
				if (b) expect(Math.hypot(at.dx + a.x - bt.dx - b.x, at.dy + a.y - bt.dy - b.y)).toBeLessThan(0.02);
			}
	return pages.map((page, i) => ({ page, ...(placed.get(i) as { dx: number; dy: number }) }));
}

/** Pages by the title that they share. */
function byTitle(pages: readonly PdfPageRead[], title: RegExp): Map<string, PdfPageRead[]> {
	const sets = new Map<string, PdfPageRead[]>();
	for (const page of pages) {
		const words = page.texts.map((t) => t.words).find((w) => title.test(w)) as string;
		sets.set(words, [...(sets.get(words) ?? []), page]);
	}
	return sets;
}

describe("templates of the faces", () => {
	it.each(["A4", "Tabloid"] as const)("on %s: every entry at its u and v to 0.1 mm, on every face", async (paper) => {
		const hand = handPlan({ seed: 9, points: 70, paper, rings: 30 });
		// The bed is never drilled upright; a few entries there must come out right too.
		for (const p of hand.plan.points.filter((x) => x.face === "top")) p.face = "bed";
		const templates = finish(drawTemplates({ plan: hand.plan, fonts: files }));
		const { pages } = await readPdf((templates as { pdf: Uint8Array }).pdf);
		const sets = byTitle(pages, /^Template: /);
		expect([...sets.keys()].sort()).toEqual(
			["back", "bed", "front", "left", "right"].map((f) => `Template: ${f} face`),
		);
		for (const [title, set] of sets) {
			const face = title.split(" ")[1];
			const across = face === "left" || face === "right" ? 1 : 0;
			const [width, height] = [hand.plan.stone.extent_mm[across], hand.plan.stone.extent_mm[face === "bed" ? 1 : 2]];
			const laid = assemble(set);
			const found = laid.flatMap(({ page, dx, dy }) => crosses(page).map((c) => ({ ...c, x: c.x + dx, y: c.y + dy })));
			// The face's outline is the largest frame of level and upright lines: its upper left corner is the origin.
			const [first] = laid;
			const title0 = first.page.texts.find((t) => t.words.startsWith(`${face} face, `)) as { x: number; y: number };
			const [left, top] = [title0.x, title0.y + 2];
			const leftwards = face === "back" || face === "left" || face === "bed";
			let checked = 0;
			for (const p of hand.plan.points) {
				if (p.face !== face || p.u_mm === null || p.v_mm === null) continue;
				const x = left + (leftwards ? width - p.u_mm : p.u_mm);
				const y = top + height - p.v_mm;
				const arm = hand.plan.rounds[p.round].tool.radius_mm + 1.5;
				const near = found.filter((c) => Math.abs(c.arm - arm) < 0.01 && Math.hypot(c.x - x, c.y - y) < 0.1);
				expect(near.length, `number ${p.number} on ${face}`).toBeGreaterThan(0);
				checked++;
			}
			expect(checked).toBeGreaterThan(0);
		}
	});

	it("is never mirrored: entries of a mirrored plan lie where u and v say", async () => {
		const entries = async (mirrored: boolean): Promise<Cross[][]> => {
			const templates = finish(drawTemplates({ plan: handPlan({ seed: 3, points: 20, mirrored }).plan, fonts: files }));
			return (await readPdf((templates as { pdf: Uint8Array }).pdf)).pages.map(crosses);
		};
		expect(await entries(true)).toEqual(await entries(false));
	});
});

describe("maps at full size", () => {
	it("two targets 200 mm apart in the view plane are 200.0 mm apart across the register marks", async () => {
		const hand = handPlan({ seed: 12, points: 20, rings: 24 });
		const [first] = hand.plan.points.filter((p) => p.line);
		const at = (x: number, z: number, number: number): typeof first => ({
			...first,
			number,
			round: 1,
			model_mm: [x, -150, z],
			normal: [0, -1, 0],
			line: [0, -1, 0],
		});
		hand.plan.points = [at(-100, 200, 1), at(100, 200, 2), at(0, 60, 3), at(0, 260, 4), at(-60, 90, 5), at(60, 250, 6)];
		const { pdf } = finish(drawFullSizeMaps({ ...hand, fonts: files }));
		const set = byTitle((await readPdf(pdf)).pages, /^Seen from /).get(
			"Seen from the front, full size",
		) as PdfPageRead[];
		expect(set.length).toBeGreaterThan(1);
		const side = 2 * 0.88 * 1.35;
		const found: { x: number; y: number; page: PdfPageRead }[] = [];
		for (const { page, dx, dy } of assemble(set))
			for (const l of page.lines.filter((m) => Math.abs(m[1] - m[3]) < 1e-3 && Math.abs(m[2] - m[0] - side) < 0.01))
				found.push({ x: dx + (l[0] + l[2]) / 2, y: dy + l[1] + side / 2, page });
		// √(120² + 160²) = 200 as well. A mark in an overlap is printed on both sheets.
		for (const [dx, dy] of [
			[200, 0],
			[0, 200],
			[120, 160],
		]) {
			const pairs = found.flatMap((a) =>
				found.filter((b) => Math.abs(b.x - a.x - dx) < 1 && Math.abs(a.y - b.y - dy) < 1).map((b) => [a, b]),
			);
			expect(pairs.length).toBeGreaterThan(0);
			for (const [a, b] of pairs) expect(Math.abs(Math.hypot(a.x - b.x, a.y - b.y) - 200)).toBeLessThan(0.1);
			expect(pairs.some(([a, b]) => a.page !== b.page)).toBe(true);
		}
	});

	it("marks of two targets are as far apart as the targets across the sheets, to 0.1 mm", async () => {
		const hand = handPlan({ seed: 12, points: 80, rings: 30 });
		for (const p of hand.plan.points) p.round = 1;
		const { pdf } = finish(drawFullSizeMaps({ ...hand, fonts: files }));
		const sets = byTitle((await readPdf(pdf)).pages, /^Seen from /);
		const set = sets.get("Seen from the front, full size") as PdfPageRead[];
		expect(set.length).toBeGreaterThan(1);
		// Marks of the second round are squares of side 2 × 0.88 × 1.35 mm; their corners give their middles.
		const side = 2 * 0.88 * 1.35;
		const found = assemble(set).flatMap(({ page, dx, dy }) =>
			page.lines
				.filter((l) => Math.abs(l[1] - l[3]) < 1e-3 && Math.abs(l[2] - l[0] - side) < 0.01)
				.map((l) => ({ x: dx + (l[0] + l[2]) / 2, y: dy + l[1] + side / 2 })),
		);
		const targets = hand.plan.points.map((p) => ({ x: p.model_mm[0], y: -p.model_mm[2] }));
		// Any two marks that are on the map must match two targets; the map is laid on the targets by the pair furthest apart.
		let longest = 0;
		let matched = 0;
		for (const a of found)
			for (const b of found) {
				const d = Math.hypot(a.x - b.x, a.y - b.y);
				if (d < 1) continue;
				const pair = targets.some((s) =>
					targets.some((t) => Math.abs(a.x - b.x - (s.x - t.x)) < 0.1 && Math.abs(a.y - b.y - (s.y - t.y)) < 0.1),
				);
				expect(pair, `${d} mm apart`).toBe(true);
				matched++;
				longest = Math.max(longest, d);
			}
		expect(matched).toBeGreaterThan(2);
		expect(longest).toBeGreaterThan(150);
	});
});
