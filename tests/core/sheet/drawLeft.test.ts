import { expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import type { LogEntry } from "../../../core/plan/commission.ts";
import { drawLeft } from "../../../core/sheet/drawSheets.ts";
import { handPlan } from "../../support/handPlan.ts";
import { readPdf } from "../../support/readPdf.ts";
import { sheetFonts } from "../../support/sheetFonts.ts";

it("shows only the points that are left, on maps and in tables, under the numbers they had", async () => {
	const hand = handPlan({ seed: 3, points: 60 });
	const drilled = hand.plan.points.filter((point) => !point.undercut);
	const done = drilled.slice(0, 25);
	const log = done.map(
		({ number }): LogEntry => ({
			kind: "done",
			id: `done${String(number).padStart(6, "0")}`,
			at: "2026-03-02T10:00:00",
			hand: "",
			point: number,
			seconds: null,
		}),
	);
	const pdf = await readPdf(finish(drawLeft({ ...hand, fonts: sheetFonts() }, log, "2026-03-03")));
	const words = pdf.pages.map((page) => page.texts.map((text) => text.words));
	expect(words[0]).toContain("What is left on 2026-03-03");
	expect(words[0].join(" ")).toContain(`25 of ${drilled.length} points are done, ${drilled.length - 25} are left`);
	const numbersOn = (title: string): number[] =>
		pdf.pages
			.filter((page) => page.texts.some((text) => text.words.startsWith(title)))
			.flatMap((page) => page.texts.filter((text) => text.size > 5.4 && /^\(?\d+\)?$/.test(text.words)))
			.map((text) => Number(text.words.replace(/[()]/g, "")))
			.sort((a, b) => a - b);
	expect(numbersOn("Map: ")).toEqual(drilled.slice(25).map((point) => point.number));
	const table = pdf.pages.filter((page) => page.texts.some((text) => text.words === "Tables"));
	const listed = new Set(table.flatMap((page) => page.texts.map((text) => text.words)));
	for (const { number } of drilled.slice(25)) expect(listed).toContain(String(number));
});
