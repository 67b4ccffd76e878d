/** The last page in a real browser: grades, an area brushed in gold, a pin, the quote and its papers; and a quick quote. */

import { readFileSync } from "node:fs";
import type { Page } from "@playwright/test";
import { readPdf } from "../support/readPdf.ts";
import { expect, test } from "../support/window.ts";
import { answerOf, eggScan, pageOf, turnTo, undoWords, workedOut, write } from "./steps.ts";

async function saved(page: Page, button: string): Promise<string[]> {
	const download = page.waitForEvent("download");
	await page.getByRole("button", { name: button, exact: true }).click();
	const { pages } = await readPdf(new Uint8Array(readFileSync(await (await download).path())));
	return pages.map(({ content }) => content);
}

test("a first price before any scan", async ({ openWindow }) => {
	const page = await openWindow();
	await page.getByRole("button", { name: "Reckon" }).click();
	const quick = page.getByRole("region", { name: "quick quote" });
	const before = await quick.locator(".answer").textContent();
	await write(page, "height of the figure", "600");
	await expect(quick.locator(".answer")).not.toHaveText(before ?? "");
	const pages = await saved(page, "Save the estimate");
	expect(pages).toHaveLength(1);
	expect(pages[0]).toContain("First estimate");
	expect(pages[0]).toContain("600 mm high");
});

test("grades, gold, pin and quote of an egg", async ({ openWindow, home }) => {
	test.setTimeout(400_000);
	const page = await openWindow(eggScan(home));
	await workedOut(page);
	await turnTo(page, "finish");
	const book = pageOf(page, "finish");

	await test.step("a higher polish takes more grades", async () => {
		const rows = book.getByRole("table", { name: "Grades in the order of work" }).getByRole("row");
		const matt = await rows.count();
		await page.getByText("gloss", { exact: true }).click();
		await expect.poll(() => rows.count()).toBeGreaterThan(matt);
	});

	await test.step("an area drawn over the model takes leaves; undone, it takes none", async () => {
		await page.getByRole("button", { name: "Add an area" }).click();
		await expect(book).toContainText("Nothing marked yet");
		const box = await page.locator("#banker-canvas").boundingBox();
		if (!box) throw new Error("no banker");
		await page.mouse.move(box.x + box.width / 2 - 30, box.y + box.height / 2);
		await page.mouse.down();
		for (let i = 1; i <= 12; i++) await page.mouse.move(box.x + box.width / 2 - 30 + 5 * i, box.y + box.height / 2);
		await page.mouse.up();
		await expect(undoWords(page)).toHaveText("undo: brush a gilded area");
		await expect(book).toContainText(/cm² on the surface itself: \d+ lea/);
		await page.keyboard.press("Control+z");
		await expect(book).toContainText("Nothing marked yet");
		await page.keyboard.press("Control+Shift+Z");
		await expect(book).toContainText("on the surface itself");
		await page.keyboard.press("Escape");
	});

	await test.step("another rate, another price, and both papers", async () => {
		await workedOut(page);
		const before = await answerOf(page, "finish").textContent();
		await page.getByText("Every figure that it rests on").click();
		await write(page, "an hour of work", "95");
		await expect(answerOf(page, "finish")).not.toHaveText(before ?? "");
		await workedOut(page);
		const offer = await saved(page, "Save the offer");
		expect(offer).toHaveLength(1);
		expect(offer[0]).toContain("gilded");
		expect(offer[0]).toContain("This is an estimate");
		const sheet = (await saved(page, "Save the worksheet")).join(" ");
		expect(sheet).toContain("a guess");
		expect(sheet).toContain("yours");
	});
});
