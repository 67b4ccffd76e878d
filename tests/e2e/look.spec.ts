/** Looking into the model: cut open, measured by the rule, and turned while it is large. */

import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { writeBinaryStl } from "../../core/scan/writeScan.ts";
import { eggMesh } from "../renderer/egg.ts";
import { expect, test } from "../support/window.ts";
import { clickBanker, eggScan, onBanker, workedOut } from "./steps.ts";

test("the model is cut open, and a length is measured on what is left", async ({ openWindow, home }) => {
	const page = await openWindow(eggScan(home));
	await workedOut(page);
	const middle = await onBanker(page, 0.5, 0.5);
	const pixels = () => page.screenshot({ clip: { x: middle.x - 60, y: middle.y - 60, width: 120, height: 120 } });
	await page.getByRole("button", { name: "front", exact: true }).click();
	const whole = await pixels();
	await page.getByRole("button", { name: "cut open" }).click();
	await expect.poll(async () => (await pixels()).equals(whole)).toBe(false);
	const half = await pixels();
	await page.getByLabel("where it is cut open").fill("900");
	await expect.poll(async () => (await pixels()).equals(half)).toBe(false);
	await page.getByRole("button", { name: "cut open" }).click();
	await expect.poll(async () => (await pixels()).equals(whole)).toBe(true);

	await page.getByRole("button", { name: "rule", exact: true }).click();
	await clickBanker(page, 0.48, 0.4);
	await expect(page.getByText("the other end of the rule")).toBeVisible();
	await clickBanker(page, 0.5, 0.6);
	await expect(page.getByText("end of the rule")).toHaveCount(0);
	await expect.poll(async () => (await pixels()).equals(whole)).toBe(false);
});

test("a large scan is turned with a stand-in, made aside", async ({ openWindow, home }) => {
	const path = join(home, "large.stl");
	writeFileSync(path, writeBinaryStl(eggMesh(0.9)));
	const page = await openWindow();
	const made = page.waitForEvent("worker", (worker) => worker.url().includes("coarse.worker"));
	await page.locator('input[data-opens="scan"]').first().setInputFiles(path);
	const worker = await made;
	// It ends by itself once it has answered.
	await worker.waitForEvent("close", { timeout: 120_000 });
});
