/** Sheets from the window: the maps looked at, every file saved, and what is sent to be printed. */

import { readFileSync } from "node:fs";
import { expect, test } from "../support/window.ts";
import { chooseScan, eggScan, turnTo, workedOut, write } from "./steps.ts";

test("maps are looked at, files saved, and the sheet goes with the plan", async ({ openWindow, home }) => {
	const page = await openWindow();
	// A browser without a screen has no print dialogue; what reaches it is noted instead.
	const printed: string[] = [];
	await page.exposeFunction("notePrinted", (address: string) => void printed.push(address));
	await page.addInitScript(() => {
		window.print = () => void (window as unknown as { notePrinted(address: string): void }).notePrinted(location.href);
	});
	await page.reload();
	await chooseScan(page, eggScan(home));
	await workedOut(page);
	await turnTo(page, "bench");
	const sheet = page.locator(".map-shown img");

	await test.step("turns over the maps", async () => {
		await page.getByRole("button", { name: "Look at the maps" }).click();
		await expect(sheet).toHaveAttribute("alt", /^Map of the points seen from the/);
		expect(
			await sheet.evaluate((image: HTMLImageElement) => image.decode().then(() => image.naturalWidth)),
		).toBeGreaterThan(100);
		const other = page.locator(".map-shown .acts > .act[aria-pressed=false]").first();
		const name = (await other.textContent()) ?? "";
		await other.click();
		await expect(sheet).toHaveAttribute("alt", new RegExp(`seen from the ${name},`));
		await page.getByRole("button", { name: "Back to the model" }).click();
		await expect(sheet).toHaveCount(0);
	});

	const saved = async (button: string): Promise<{ name: string; text: string }> => {
		const download = page.waitForEvent("download");
		await page.getByRole("button", { name: button }).click();
		const file = await download;
		return { name: file.suggestedFilename(), text: readFileSync(await file.path(), "utf8") };
	};

	await test.step("saves table and plan", async () => {
		const plan = await saved("Plan (JSON)");
		expect(plan.name).toBe("egg-plan.json");
		const { points, format } = JSON.parse(plan.text) as { points: unknown[]; format: string };
		expect(format).toBe("puntello-plan");
		const table = await saved("Table (CSV)");
		expect(table.name).toBe("egg-points.csv");
		expect(table.text.trim().split(/\r?\n/).length).toBeGreaterThanOrEqual(points.length + 1);
		await expect(page.getByRole("status").filter({ hasText: "Saved egg-points.csv." })).toBeVisible();
	});

	await test.step("saves every map, in one archive", async () => {
		const maps = await saved("Maps (SVG)");
		expect(maps.name).toBe("egg-maps.zip");
		expect(maps.text.startsWith("PK")).toBe(true);
		expect(maps.text).toContain("map-front.svg");
	});

	await test.step("hands the sheets to the print dialogue", async () => {
		await page.getByRole("button", { name: "Print" }).click();
		await expect(page.getByRole("status").filter({ hasText: "print dialogue" })).toBeVisible();
		await expect.poll(() => printed).toEqual([expect.stringMatching(/^blob:/)]);
	});

	await test.step("makes a map of what the banker shows, and says what a revision supersedes", async () => {
		await page.locator("#banker-canvas").focus();
		await page.keyboard.press("ArrowRight");
		await page.keyboard.press("ArrowRight");
		await page.getByRole("button", { name: "add as a map" }).click();
		await page.getByLabel("view 1", { exact: true }).fill("the brow");
		await page.getByLabel("supersedes").fill("B");
		await page.getByLabel("supersedes").blur();
		await workedOut(page);
		await page.getByRole("button", { name: "Look at the maps" }).click();
		await page.locator(".map-shown").getByRole("button", { name: "the brow" }).click();
		await expect(page.locator(".map-shown img")).toHaveAttribute("alt", /the brow/);
		if (process.env.LOOK) await page.screenshot({ path: `${process.env.LOOK}/map.png` });
		await page.getByRole("button", { name: "Back to the model" }).click();
	});

	await test.step("saves templates and maps at full size", async () => {
		const templates = await saved("Templates (PDF)");
		expect(templates.name).toBe("egg-templates.pdf");
		expect(templates.text.startsWith("%PDF")).toBe(true);
		expect((await saved("Full-size maps (PDF)")).name).toBe("egg-maps-full-size.pdf");
	});

	await test.step("draws them anew for another plan, and says inches where they are asked for", async () => {
		await page.getByLabel("lengths in").selectOption("in");
		await workedOut(page);
		await expect(page.locator(".figures", { hasText: "pages" })).toHaveCount(0);
		await turnTo(page, "stone");
		await expect(page.getByLabel("height", { exact: true })).toHaveValue(/^\d+\.\d\d+$/);
		await write(page, "height", "15 1/2");
		await workedOut(page);
		await expect(page.getByLabel("height", { exact: true })).toHaveAttribute("title", "393.7 mm");
	});
});
