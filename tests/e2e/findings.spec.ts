/** What is wrong with a scan, stepped through on the banker, and mended. */

import { expect, test } from "../support/window.ts";
import { chooseScan, fixture, undoWords } from "./steps.ts";

const FAULTS = [
	["one-triangle-flipped.stl", "flipped"],
	["crowded-edge.stl", "crowded"],
	["open-box.stl", "open"],
	["doubled-triangles.stl", "doubled"],
	["arealess-triangles.stl", "arealess"],
	["box-and-crumbs.stl", "shells"],
] as const;

test("every finding can be shown, place by place; pieces and backs are chosen", async ({ openWindow }) => {
	const page = await openWindow();
	for (const [file, what] of FAULTS)
		await test.step(`${file}: ${what}`, async () => {
			await chooseScan(page, fixture(file));
			await expect(page.locator("dl.figures dd").first()).toHaveText(file);
			const finding = page.locator(`[data-finding="${what}"]`);
			await finding.getByRole("button", { name: /^show / }).click();
			await expect(finding.locator(`[data-steps="${what}"]`)).toContainText("1 of");
			const next = finding.getByRole("button", { name: /next place/ });
			if (await next.isVisible()) {
				await next.click();
				await expect(finding.locator("[data-steps]")).toContainText("2 of");
			}
			await finding.getByRole("button", { name: "leave off" }).click();
			await expect(finding.locator("[data-steps]")).toHaveCount(0);
		});

	await test.step("the pieces that stay are ticked, with what that did", async () => {
		await page.getByText("those that are ticked").click();
		await expect(page.locator('[data-mended="keepShells"]')).toContainText("pieces: 3 before, 1 after");
		await expect(page.locator('[data-finding="shells"]')).toHaveCount(0);
		await page.locator(".pieces tbody tr").nth(1).getByRole("checkbox").check();
		await expect(page.locator('[data-mended="keepShells"]')).toContainText("pieces: 3 before, 2 after");
	});

	await test.step("an open box is given a back", async () => {
		await chooseScan(page, fixture("open-box.stl"));
		await page.getByText("square to its rim").click();
		await expect(undoWords(page)).toHaveText("undo: back it square to its rim");
		await expect(page.locator('[data-finding="open"]')).toHaveCount(0);
		await expect(page.getByText("Closed: it holds a volume.")).toBeVisible();
	});
});
