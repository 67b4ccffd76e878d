/** Every screen in both themes before the general-purpose accessibility checker (axe-core; WCAG 2.2 A and AA). */

import AxeBuilder from "@axe-core/playwright";
import type { Page } from "@playwright/test";
import { expect, test } from "../support/window.ts";
import { eggScan, type PageTitle, turnTo, workedOut } from "./steps.ts";

async function grave(page: Page, where: string): Promise<void> {
	const { violations } = await new AxeBuilder({ page })
		.withTags(["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"])
		.analyze();
	const found = violations
		.filter(({ impact }) => impact === "serious" || impact === "critical")
		.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html.slice(0, 120)).join(" | ")}`);
	expect(found, where).toEqual([]);
}

for (const colorScheme of ["light", "dark"] as const)
	test(`nothing serious on any screen, ${colorScheme}`, async ({ openWindow, page, home }) => {
		await page.emulateMedia({ colorScheme });
		await openWindow();
		await expect(page.getByRole("button", { name: "Open a scan", exact: true })).toBeVisible();
		expect(await page.locator("html").getAttribute("data-theme")).toBe(colorScheme === "dark" ? "slate" : "paper");
		await grave(page, "first screen");
		await page.locator('input[data-opens="scan"]').first().setInputFiles(eggScan(home));
		await workedOut(page);
		for (const title of ["model", "stone", "points", "bench", "finish"] satisfies PageTitle[]) {
			await turnTo(page, title);
			await grave(page, title);
		}
		await turnTo(page, "points");
		await page.getByRole("button", { name: "points as a table" }).click();
		await grave(page, "the table");
		await page.getByRole("button", { name: "points as a table" }).click();
		await page.keyboard.press("F1");
		await expect(page.getByRole("region", { name: "help" })).toBeVisible();
		await grave(page, "help");
		await page.keyboard.press("Escape");
		await turnTo(page, "bench");
		await page.getByRole("button", { name: "Work at the bench" }).click();
		await grave(page, "bench view");
		await page.getByRole("button", { name: "reads …" }).click();
		await grave(page, "keypad");
	});
