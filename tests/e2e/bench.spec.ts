import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { readReadings } from "../../core/plan/readDocument.ts";
import { expect, test } from "../support/window.ts";
import { answerOf, eggScan, pageOf, turnTo, workedOut } from "./steps.ts";

/** Points are worked from the bench view and from the one-file page, and what the page gives back joins the log. */

test("points are done in the bench view and on the bench page, and both stand in one log", async ({
	openWindow,
	home,
	browser,
}) => {
	const folder = mkdtempSync(join(tmpdir(), "puntello-bench-"));
	const page = await openWindow(eggScan(home));
	await workedOut(page);
	await turnTo(page, "bench");
	const bench = pageOf(page, "bench");

	await bench.getByRole("button", { name: "Work at the bench" }).click();
	const view = page.getByRole("main", { name: "bench view" });
	await expect(view.getByRole("heading", { level: 1 })).toHaveText("1");
	const number = view.getByRole("heading", { level: 1 });
	await view.getByRole("button", { name: "reads …" }).click();
	const depth = await page.evaluate(() => document.querySelector(".bench-choice") !== null);
	if (depth) await view.getByRole("button", { name: "left over the figure" }).click();
	for (const key of ["−", "1", ".", "5"])
		await view.getByRole("button", { name: key === "−" ? "minus" : key === "." ? "point" : key, exact: true }).click();
	await expect(view.getByText(/Gone under the finished face by 1\.5 mm/)).toBeVisible();
	await view.getByRole("button", { name: "take it" }).click();
	// In the colour of alarm, and what is asked for is no longer to call it done.
	await expect(view.locator(".bench-alarm")).toContainText(/gone under the finished face\s*by 1\.5 mm/);
	await expect(view.getByRole("alert")).toContainText("Stop: drill no deeper");
	await expect(view.getByRole("button", { name: "done", exact: true })).not.toHaveClass(/main/);
	// A slip is taken back, and the point is read again by the keyboard.
	await view.getByRole("button", { name: "take back" }).click();
	await expect(view.locator(".bench-alarm")).toHaveCount(0);
	await view.getByRole("button", { name: "done", exact: true }).click();
	await expect(number).toHaveText("2");
	await page.keyboard.press("ArrowLeft");
	await expect(view.getByText(/^Done \d{4}-/)).toBeVisible();
	await view.getByRole("button", { name: "to the planner" }).click();
	await expect(answerOf(page, "bench")).toContainText(/^1 of \d+, days left/);

	const saved = page.waitForEvent("download");
	await bench.getByRole("button", { name: "Save the bench page" }).click();
	const path = join(folder, "page.html");
	await (await saved).saveAs(path);

	// The tablet: no network at all, the file alone.
	const tablet = await browser.newContext({ viewport: { width: 1024, height: 768 }, hasTouch: true, offline: true });
	const sheet = await tablet.newPage();
	const troubles: string[] = [];
	sheet.on("pageerror", (error) => troubles.push(String(error)));
	sheet.on("request", (request) => {
		if (!/^(file|blob|data):/.test(request.url())) troubles.push(request.url());
	});
	await sheet.goto(pathToFileURL(path).href);
	await expect(sheet.getByRole("heading", { level: 1 })).toHaveText("2");
	await sheet.getByRole("button", { name: "done", exact: true }).tap();
	await sheet.getByRole("button", { name: "done", exact: true }).tap();
	await expect(sheet.getByRole("heading", { level: 1 })).toHaveText("4");
	// What is entered outlives the page.
	await sheet.reload();
	await expect(sheet.getByRole("status").first()).toContainText(/^3 of/);
	const given = sheet.waitForEvent("download");
	await sheet.getByRole("button", { name: "give back (2)" }).tap();
	const readings = join(folder, "egg.readings.json");
	await (await given).saveAs(readings);
	expect(troubles).toEqual([]);
	await tablet.close();
	expect(readReadings(readFileSync(readings, "utf8"), "egg").entries).toHaveLength(2);

	const input = page.locator('input[data-opens="readings"]');
	await input.setInputFiles(readings);
	await expect(bench.getByText("2 new entries taken in")).toBeVisible();
	await expect(answerOf(page, "bench")).toContainText(/^3 of/);
	await input.setInputFiles(readings);
	await expect(bench.getByText("all 2 entries were known already")).toBeVisible();
	await input.setInputFiles({
		name: "wrong.json",
		mimeType: "application/json",
		buffer: Buffer.from('{"format":"x"}'),
	});
	await expect(bench.getByText(/wrong\.json is no puntello-readings document: found x/)).toBeVisible();
	await expect(answerOf(page, "bench")).toContainText(/^3 of/);
	rmSync(folder, { recursive: true });
});
