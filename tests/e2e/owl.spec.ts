/** The whole job in a real browser by pointer: the owl, from the first screen to the sheet, the log, the gold and the quote. */

import { readFileSync } from "node:fs";
import { readPdf } from "../support/readPdf.ts";
import { expect, test } from "../support/window.ts";
import { answerOf, card, clickBanker, onBanker, pageOf, turnTo, undoWords, workedOut, write } from "./steps.ts";

/** What one point of the plan is, as the saved JSON has it. */
interface SavedPlan {
	readonly points: readonly { readonly number: number; readonly kind: string; readonly undercut: boolean }[];
	readonly datumSets: readonly { readonly datums: readonly { readonly model_mm: readonly number[] }[] }[];
}

test("the owl by pointer: bench, cast, size, stone, cuts, datums, rounds, sheets, log, gold, quote", async ({
	openWindow,
}) => {
	test.setTimeout(600_000);
	const page = await openWindow();

	await test.step("opens from the first screen", async () => {
		await expect(page.getByRole("heading", { name: "Puntello" })).toBeVisible();
		await page.locator(".offer", { hasText: "Owl" }).getByRole("button", { name: "Open" }).click();
		await expect(answerOf(page, "model")).toContainText("412", { timeout: 150_000 });
		await workedOut(page);
		await expect(answerOf(page, "stone")).toContainText("to spare, proved");
		await expect(answerOf(page, "points")).toContainText("in 4 rounds");
	});

	const saved = async (): Promise<SavedPlan> => {
		await turnTo(page, "bench");
		const download = page.waitForEvent("download");
		await page.getByRole("button", { name: "Plan (JSON)" }).click();
		const file = await (await download).path();
		return JSON.parse(readFileSync(file, "utf8")) as SavedPlan;
	};

	await test.step("leaves out the two finer rounds, so that the rest of this test is quick", async () => {
		await turnTo(page, "points");
		await page.getByRole("button", { name: "leave out the round last net" }).click();
		await page.getByRole("button", { name: "leave out the round close net" }).click();
		await expect(undoWords(page)).toHaveText("undo: leave out close net");
		await expect(answerOf(page, "points")).toContainText("in 2 rounds", { timeout: 150_000 });
		await workedOut(page);
	});

	const front = page.locator(".views").getByRole("button", { name: "front", exact: true });
	await test.step("says what stands on the bench, and reads a pair on the cast", async () => {
		await turnTo(page, "model");
		await page.getByRole("radio", { name: /with three callipers/ }).click();
		await expect(undoWords(page)).toHaveText("undo: on the bench: callipers");
		await workedOut(page);
		await front.click();
		const pairs = page.getByRole("table", { name: "Calliper pairs" }).locator("tbody tr");
		const pick = async (...places: readonly (readonly [number, number])[]): Promise<void> => {
			await page.getByRole("button", { name: "Pick two places" }).click();
			for (const [x, y] of places) await clickBanker(page, x, y);
			await write(page, "length read on the cast", "100");
		};
		await pick([0.5, 0.3], [0.5, 0.7]);
		await pick([0.42, 0.55], [0.58, 0.55]);
		await expect(pairs).toHaveCount(2);
		// 100 mm over both is nothing that one size of the cast explains.
		await expect(card(page, "Cast check")).toContainText("Read both again", { timeout: 150_000 });
		await page.getByRole("button", { name: "remove calliper pair 2" }).click();
		await expect(pairs).toHaveCount(1);
	});

	await test.step("turns it and back, and makes it a little larger", async () => {
		await page.getByRole("button", { name: "turn round", exact: true }).click();
		await expect(undoWords(page)).toHaveText("undo: turn round 90°");
		await page.getByRole("button", { name: "as scanned", exact: true }).click();
		await expect(undoWords(page)).toHaveText("undo: stand it as scanned");
		await write(page, "height in stone", "413");
		await expect(answerOf(page, "model")).toContainText("413");
		await workedOut(page);
	});

	const suggested: string[] = [];
	await test.step("picks three datums on the mesh", async () => {
		await turnTo(page, "points");
		await front.click();
		const rows = pageOf(page, "points").locator("table.list").first().locator("tbody tr");
		await expect(rows).toHaveCount(3);
		suggested.push(...(await rows.allInnerTexts()));
		await page.getByRole("button", { name: "Pick A, B and C" }).click();
		for (const [letter, x, y] of [
			["A", 0.5, 0.86],
			["B", 0.44, 0.5],
			["C", 0.56, 0.36],
		] as const) {
			await expect(page.locator(".banker-word:not([data-word])")).toContainText(`datum ${letter}`);
			await clickBanker(page, x, y);
			await expect(undoWords(page)).toHaveText(`undo: pick datum ${letter}`);
		}
		await expect(page.locator(".banker-word:not([data-word])")).toHaveCount(0);
		// Datums alone are worked out in less time than a test looks away for.
		await expect.poll(() => rows.allInnerTexts(), { timeout: 150_000 }).not.toEqual(suggested);
		await workedOut(page);
		await expect(page.getByText("Picked by you.")).toBeVisible();
	});

	await test.step("picks a point on the mesh", async () => {
		await page.getByRole("button", { name: "Pick points on the model" }).click();
		await clickBanker(page, 0.5, 0.6);
		await page.keyboard.press("Escape");
		await expect(undoWords(page)).toHaveText("undo: pick a point");
		await workedOut(page);
		await page.getByLabel("which").selectOption("picked");
		await expect(page.locator(".tape-side b")).toContainText("1 of");
		await page.getByLabel("which").selectOption("all");
	});

	await test.step("changes the block until it no longer fits, and back", async () => {
		await turnTo(page, "stone");
		const spare = (await answerOf(page, "stone").textContent()) ?? "";
		const atTop = pageOf(page, "stone").locator("table.list tr", { hasText: "top" });
		const gap = (await atTop.textContent()) ?? "";
		await write(page, "height", "400");
		await expect(page.locator('[data-answer="fit"]')).toContainText("No:", { timeout: 150_000 });
		await expect(answerOf(page, "points")).not.toContainText("rounds");
		await workedOut(page);
		await expect(undoWords(page)).toContainText("height of the block 400");
		await page.keyboard.press("Control+z");
		await expect(page.locator('[data-answer="fit"]')).toContainText("Yes", { timeout: 150_000 });
		await workedOut(page);
		await expect(answerOf(page, "stone")).toHaveText(spare);
		await page.keyboard.press("Control+Shift+z");
		await expect(page.locator('[data-answer="fit"]')).toContainText("No:", { timeout: 150_000 });
		await write(page, "height", "18 in");
		await expect(page.locator('[data-answer="fit"]')).toContainText("Yes", { timeout: 150_000 });
		await workedOut(page);
		await expect(answerOf(page, "stone")).toContainText("to spare, proved");
		await expect(atTop).not.toHaveText(gap);
	});

	await test.step("marks a flaw and has a cut proposed", async () => {
		await page.getByRole("button", { name: "Add a flaw" }).click();
		await expect(undoWords(page)).toHaveText("undo: a flaw");
		await expect(card(page, "Natural bed and flaws").locator(".entry")).toContainText(/mm|clear|crosses/);
		await write(page, "through cuts to propose", "2");
		const cuts = card(page, "Cuts and bridges").locator("table").first().locator("tbody tr");
		await expect(cuts).toHaveCount(2, { timeout: 150_000 });
		await cuts.first().click();
		await workedOut(page);
	});

	await test.step("joins the first net higher, looks at an undercut and at a few points", async () => {
		await turnTo(page, "points");
		const round = card(page, "Rounds").locator(".entry", { hasText: "first net" });
		const field = round.getByLabel("leave standing at the join");
		await field.fill("6.5");
		await field.press("Enter");
		await expect(undoWords(page)).toContainText("first net");
		await workedOut(page);
		await page.getByLabel("which", { exact: true }).selectOption("undercut");
		await page
			.getByRole("button", { name: /^show point \d+$/ })
			.first()
			.click();
		await expect(card(page, "The hole, cut open")).toContainText("is an undercut and has no hole");
		await page.getByLabel("which", { exact: true }).selectOption("all");
		await page.getByLabel("look for").fill("1-5");
		await expect(page.locator(".compact-list tr.pick")).toHaveCount(5);
		await page.locator(".compact-list tr.pick").nth(1).click();
		await expect(card(page, "The hole, cut open").locator("img")).toHaveAttribute("alt", /hole of point \d+/);
		await page.getByLabel("look for").fill("");
	});

	await test.step("stops a long job: the last answers stay and say that they are old", async () => {
		const before = (await answerOf(page, "points").textContent()) ?? "";
		await turnTo(page, "model");
		await write(page, "read no form narrower than", "3.5");
		await page.locator('[data-work="planning"]').waitFor();
		const asked = Date.now();
		await page.getByRole("button", { name: "Stop" }).click();
		await expect(page.locator('[data-work="stopped"]')).toBeVisible();
		test.info().annotations.push({ type: "stopped after", description: `${Date.now() - asked} ms, click included` });
		await expect(answerOf(page, "points").locator(".again")).toHaveText(`${before}, being worked out again`);
		await page.keyboard.press("Control+z");
		await workedOut(page);
		await expect(answerOf(page, "points").locator(".again")).toHaveCount(0);
		await expect(answerOf(page, "points")).toHaveText(before);
	});

	await test.step("exports the sheets as PDF, every point on them", async () => {
		const plan = await saved();
		expect(plan.points.filter((point) => point.kind === "picked")).toHaveLength(1);
		await page.getByLabel("paper", { exact: true }).selectOption("A3");
		await workedOut(page);
		const download = page.waitForEvent("download", { timeout: 240_000 });
		await page.getByRole("button", { name: "Save the PDF" }).click();
		const file = await download;
		expect(file.suggestedFilename()).toBe("Owl for a newel post.pdf");
		const pdf = await readPdf(new Uint8Array(readFileSync(await file.path())));
		await expect(page.locator(".figures", { hasText: "pages" })).toContainText(String(pdf.pages.length));
		for (const { points } of pdf.pages) {
			const mm = [...points].sort((a, b) => a - b).map((one) => (one * 25.4) / 72);
			expect(mm[0]).toBeCloseTo(297, 0);
			expect(mm[1]).toBeCloseTo(420, 0);
		}
		const said = new Set(pdf.pages.flatMap((one) => one.texts.map((text) => text.words.trim())));
		expect(plan.points.filter((point) => !said.has(String(point.number))).map((point) => point.number)).toEqual([]);
	});

	await test.step("does two points at the bench and reads a third; the log has all three", async () => {
		await page.getByRole("button", { name: "Work at the bench" }).click();
		const view = page.getByRole("main", { name: "bench view" });
		const done = view.getByRole("button", { name: "done", exact: true });
		const number = view.getByRole("heading", { level: 1 });
		await expect(number).toHaveText("1");
		await done.click();
		await expect(number).toHaveText("2");
		await done.click();
		await expect(number).toHaveText("3");
		await view.getByRole("button", { name: "reads …" }).click();
		await view.getByRole("button", { name: "left over the figure" }).click();
		for (const key of ["2", "point", "5"]) await view.getByRole("button", { name: key, exact: true }).click();
		await view.getByRole("button", { name: "take it" }).click();
		await expect(view.getByText(/^Read: /)).toBeVisible();
		await view.getByRole("button", { name: "to the planner" }).click();
		await expect(answerOf(page, "bench")).toContainText(/^2 of \d+/);
		const log = pageOf(page, "bench").locator(".log-list li");
		await expect(log).toHaveCount(3);
		await expect(log.first()).toContainText("point 3 reads: ");
		await expect(log.last()).toContainText("point 1 done");
	});

	await test.step("asks whether anything has moved", async () => {
		await expect(card(page, "Has anything moved?")).toContainText(/proof marks|From what was read/);
	});

	await test.step("draws an area to be gilded", async () => {
		await turnTo(page, "finish");
		await page.getByRole("button", { name: "Add an area" }).click();
		const from = await onBanker(page, 0.45, 0.45);
		await page.mouse.move(from.x, from.y);
		await page.mouse.down();
		for (let i = 1; i <= 10; i++) await page.mouse.move(from.x + 6 * i, from.y);
		await page.mouse.up();
		await expect(undoWords(page)).toHaveText("undo: brush a gilded area");
		await expect(pageOf(page, "finish")).toContainText(/cm² on the surface itself: \d+ lea/);
		await page.keyboard.press("Escape");
		await workedOut(page);
	});

	await test.step("asks another rate, and the quote is another", async () => {
		await turnTo(page, "finish");
		const before = (await answerOf(page, "finish").textContent()) ?? "";
		await page.getByText("Every figure that it rests on").click();
		await write(page, "an hour of work", "95");
		await expect(answerOf(page, "finish")).not.toHaveText(before);
	});
});
