/** Every screen in both themes before the general-purpose accessibility checker (axe-core: WCAG 2.2 A and AA, and its own good practice). */

import AxeBuilder from "@axe-core/playwright";
import type { Page } from "@playwright/test";
import { expect, test } from "../support/window.ts";
import { eggScan, type PageTitle, turnTo, workedOut } from "./steps.ts";

async function faultless(page: Page, where: string): Promise<void> {
	const { violations } = await new AxeBuilder({ page }).analyze();
	const found = violations.map(
		({ id, impact, nodes }) => `${impact} ${id}: ${nodes.map((node) => node.html.slice(0, 120)).join(" | ")}`,
	);
	expect(found, where).toEqual([]);
}

for (const colorScheme of ["light", "dark"] as const)
	test(`nothing amiss on any screen, ${colorScheme}`, async ({ openWindow, page, home }) => {
		await page.emulateMedia({ colorScheme });
		await openWindow();
		await expect(page.getByRole("button", { name: "Open a scan", exact: true })).toBeVisible();
		expect(await page.locator("html").getAttribute("data-theme")).toBe(colorScheme === "dark" ? "slate" : "paper");
		await faultless(page, "first screen");
		await page.getByRole("button", { name: "Reckon" }).click();
		await faultless(page, "quick quote");
		await page.locator('input[data-opens="scan"]').first().setInputFiles(eggScan(home));
		await workedOut(page);
		for (const title of ["model", "stone", "points", "bench", "finish"] satisfies PageTitle[]) {
			await turnTo(page, title);
			await faultless(page, title);
		}
		await turnTo(page, "points");
		await page.getByRole("button", { name: "points as a table" }).click();
		await faultless(page, "the table");
		await page.getByRole("button", { name: "points as a table" }).click();
		await page.keyboard.press("F1");
		await expect(page.getByRole("region", { name: "help" })).toBeVisible();
		await faultless(page, "help");
		await page.keyboard.press("Escape");
		await turnTo(page, "bench");
		await page.getByRole("button", { name: "Work at the bench" }).click();
		await faultless(page, "bench view");
		await page.getByRole("button", { name: "reads …" }).click();
		await faultless(page, "keypad");
	});
