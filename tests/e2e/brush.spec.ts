/** The carver brushes ground for more or fewer points, chooses the order, and looks at how the figure bends. */

import { expect, test } from "../support/window.ts";
import { eggScan, onBanker, pageOf, turnTo, undoWords, workedOut } from "./steps.ts";

test("ground brushed without points is drawn, taken into the plan and can be undone; curvature has its picture", async ({
	openWindow,
	home,
}) => {
	const page = await openWindow(eggScan(home));
	await workedOut(page);
	await turnTo(page, "points");
	await page.getByRole("button", { name: "front", exact: true }).first().click();
	const points = pageOf(page, "points");
	await points.getByText("no points", { exact: true }).click();
	await points.getByRole("button", { name: "Brush on the model" }).click();
	const from = await onBanker(page, 0.47, 0.45);
	const to = await onBanker(page, 0.53, 0.55);
	await page.mouse.move(from.x, from.y);
	await page.mouse.down();
	for (let i = 1; i <= 8; i++)
		await page.mouse.move(from.x + ((to.x - from.x) * i) / 8, from.y + ((to.y - from.y) * i) / 8);
	await page.mouse.up();
	await expect(points.getByText("brushed 1")).toBeVisible();
	await expect(page.getByText("Spacing as brushed")).toBeVisible();
	if (process.env.LOOK) await page.screenshot({ path: `${process.env.LOOK}/brush.png` });
	await points.getByRole("button", { name: "Done brushing" }).click();
	await expect(undoWords(page)).toContainText("brush ground, no points");
	await workedOut(page);
	await expect(points.getByText("not held: left rough").first()).toBeVisible();
	await points.getByText("left and right in pairs").click();
	await workedOut(page);
	await expect(points.getByText("way of the arm")).toBeVisible();
	if (process.env.LOOK) {
		await points.getByText("way of the arm").scrollIntoViewIfNeeded();
		await page.screenshot({ path: `${process.env.LOOK}/order.png` });
	}

	await turnTo(page, "model");
	const middle = await onBanker(page, 0.5, 0.5);
	const pixels = () => page.screenshot({ clip: { x: middle.x - 80, y: middle.y - 80, width: 160, height: 160 } });
	const plain = await pixels();
	const colour = page.locator(".banker-tools select").first();
	await colour.selectOption("curvature");
	await expect.poll(async () => (await pixels()).equals(plain)).toBe(false);
	const most = await pixels();
	if (process.env.LOOK) await page.screenshot({ path: `${process.env.LOOK}/most.png` });
	await colour.selectOption("curvature least");
	await expect.poll(async () => (await pixels()).equals(most)).toBe(false);
	if (process.env.LOOK) await page.screenshot({ path: `${process.env.LOOK}/least.png` });
});
