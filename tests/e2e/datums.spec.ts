/** Datum sets, links, seats as measured and proof marks, as a carver with a pointing machine meets them. */

import { expect, test } from "../support/window.ts";
import { clickBanker, eggScan, pageOf, turnTo, workedOut, write } from "./steps.ts";

test("a further set is picked and linked, marks are shown, measured seats carry the figure", async ({
	openWindow,
	home,
}) => {
	const page = await openWindow(eggScan(home));
	await workedOut(page);
	await turnTo(page, "model");
	await page.getByRole("radio", { name: /pointing machine/ }).check();
	await turnTo(page, "points");
	await workedOut(page);
	const points = pageOf(page, "points");
	await expect(points.getByRole("table", { name: /Proof marks/ }).locator("tbody tr")).toHaveCount(6);

	await page.getByRole("button", { name: "back", exact: true }).click();
	await points.getByRole("button", { name: "Pick a further set" }).click();
	await clickBanker(page, 0.5, 0.36);
	await clickBanker(page, 0.54, 0.6);
	await clickBanker(page, 0.46, 0.6);
	await workedOut(page);
	await expect(points.getByRole("heading", { name: "Set back" })).toBeVisible();
	await points.getByLabel("its seats are set by").selectOption({ index: 1 });
	await workedOut(page);
	await expect(points.getByText("the link's error is counted in")).toBeVisible();

	await points.getByText("seats as measured").first().click();
	const seat = page.getByLabel("seat A of set main from the left");
	const was = Number(await seat.inputValue());
	await write(page, "seat A of set main from the left", (was + 0.6).toFixed(1));
	await expect(points.getByRole("button", { name: /put the seats back/ })).toBeVisible();
	await workedOut(page);
	await expect(seat).toHaveValue((was + 0.6).toFixed(1));
});
