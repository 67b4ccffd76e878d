/** What a carver does in the window, step by step, for the end-to-end tests. */

import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, type Locator, type Page } from "@playwright/test";
import { writeBinaryStl } from "../../core/scan/writeScan.ts";
import { eggMesh } from "../renderer/egg.ts";

export const fixture = (name: string): string => fileURLToPath(new URL(`../../fixtures/${name}`, import.meta.url));

/** The lumpy egg as a file of its own: planned in a few seconds. */
export function eggScan(folder: string): string {
	const path = join(folder, "egg.stl");
	writeFileSync(path, writeBinaryStl(eggMesh(7)));
	return path;
}

export type PageTitle = "model" | "stone" | "points" | "bench" | "finish";

export const pageOf = (page: Page, title: PageTitle): Locator => page.locator(`[data-page="${title}"]`);
export const answerOf = (page: Page, title: PageTitle): Locator => pageOf(page, title).locator(".page-answer");

/** A card of the page that is open, by its title. */
export const card = (page: Page, title: string): Locator => page.getByRole("region", { name: title, exact: true });

/** Opens a page of the day book. */
export async function turnTo(page: Page, title: PageTitle): Promise<void> {
	await pageOf(page, title).locator(".page-head").click();
	await expect(pageOf(page, title).locator(".page-body")).toBeVisible();
	// Its cards come one after another.
	await expect(page.locator("[data-more]")).toHaveCount(0);
}

/** Waits until everything is worked out. */
export async function workedOut(page: Page): Promise<void> {
	await expect(page.locator('[data-work="done"]')).toBeVisible({ timeout: 150_000 });
}

/** Types into a field and leaves it. */
export async function write(page: Page, label: string, value: string): Promise<void> {
	const field = page.getByLabel(label, { exact: true });
	await field.fill(value);
	await field.press("Enter");
}

export const undoWords = (page: Page): Locator => page.locator(".book-undo .word").first();

/** Chooses a file as the carver would in the browser's own dialogue. */
export async function chooseScan(page: Page, path: string): Promise<void> {
	await page.locator('input[data-opens="scan"]').first().setInputFiles(path);
}

/** A place on the banker as shares of its width and height. */
export async function onBanker(page: Page, x: number, y: number): Promise<{ x: number; y: number }> {
	const box = await page.locator(".scene-canvas").boundingBox();
	if (!box) throw new Error("the banker is not shown");
	return { x: box.x + x * box.width, y: box.y + y * box.height };
}

export async function clickBanker(page: Page, x: number, y: number): Promise<void> {
	const at = await onBanker(page, x, y);
	await page.mouse.move(at.x, at.y);
	await page.mouse.click(at.x, at.y);
}
