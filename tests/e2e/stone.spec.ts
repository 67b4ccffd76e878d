/** The stone in a real browser: a fit that fails, a broken corner, a flaw, a yard, and roughing out. */

import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { newCommission } from "../../core/plan/commission.ts";
import { expect, test } from "../support/window.ts";
import { eggScan, pageOf, turnTo, workedOut, write } from "./steps.ts";

test("the stone of an egg: too small, broken, flawed, chosen from a yard, and roughed out", async ({
	openWindow,
	home,
}) => {
	test.setTimeout(400_000);
	// One round of points: what is asked here is the stone.
	eggScan(home);
	const plain = newCommission("egg.stl");
	const begun = join(home, "egg.commission.json");
	const stoneBegun = { ...plain.stone, block_mm: [400, 400, 300] };
	writeFileSync(begun, JSON.stringify({ ...plain, rounds: plain.rounds.slice(0, 1), stone: stoneBegun }));
	const page = await openWindow(begun);
	await workedOut(page);
	await turnTo(page, "stone");
	const stone = pageOf(page, "stone");
	const fit = stone.locator('[data-answer="fit"]');
	const card = (title: string) =>
		stone.locator(".card").filter({ has: page.getByRole("heading", { name: title, exact: true }) });

	// Too low by more than the figure can give: the tight faces are named in words, in the table and on the banker.
	await expect(fit).toContainText("No:", { timeout: 150_000 });
	await expect(fit).toContainText("mm too low");
	await expect(stone.locator("tr.pointed")).toContainText("tightest");

	await write(page, "height", "420");
	await expect(fit).toContainText("Yes", { timeout: 150_000 });
	const whole = await stone.locator(".reason", { hasText: "spares over" }).first().textContent();

	await stone.getByLabel("what is broken off").selectOption("left front top");
	await stone.getByRole("button", { name: "Add the break" }).click();
	await write(page, "in from left", "160");
	await write(page, "in from front", "160");
	await write(page, "in from top", "200");
	await workedOut(page);
	await expect(fit).toContainText("Yes");
	await expect(card("Does it fit?").getByRole("row")).toHaveCount(8);
	expect(await stone.locator(".reason", { hasText: "spares over" }).first().textContent()).not.toBe(whole);

	// A flaw across the middle of the block is where the figure is; the card says so before anything is sawn.
	await stone.getByRole("button", { name: "Add a flaw" }).click();
	await expect(stone.locator('[data-answer="flaw"]')).toContainText("cm² of the figure", { timeout: 150_000 });
	await stone.getByRole("button", { name: "take out vein 1" }).click();
	await stone.getByRole("button", { name: "take out", exact: true }).first().click();

	await page
		.getByLabel("sizes, one stone a line")
		.fill("step, 400 x 400 x 300\ngate post, 420 x 420 x 900\ncube, 15in x 15in x 15in");
	await stone.getByRole("button", { name: "Add these sizes" }).click();
	await stone.getByRole("button", { name: "Check 3 stones" }).click();
	const rows = stone.locator('[data-answer="yard"] tbody tr');
	await expect(rows).toHaveCount(3, { timeout: 60_000 });
	await expect(rows.nth(0)).toContainText("cube");
	await expect(rows.nth(1)).toContainText("gate post");
	await expect(rows.nth(2)).toContainText("lacks");
	await rows.nth(0).getByRole("button", { name: "take the stone cube" }).click();
	await expect(page.getByLabel("length", { exact: true })).toHaveValue("381.0");

	const cuts = card("Cuts and bridges");
	await write(page, "through cuts to propose", "2");
	await expect(cuts.locator('[data-answer="cuts"]')).toContainText("2 cuts free", { timeout: 150_000 });
	await workedOut(page);
	await cuts.getByRole("button", { name: "cut 2", exact: true }).click();
	await expect(cuts.locator("legend", { hasText: "cut 2" })).toBeVisible();
	await expect(cuts).toContainText("Nearest under it: the figure, at what must stay.");
	await cuts.getByRole("button", { name: "skip this cut" }).click();
	await expect(cuts).toContainText("Skipped: not sawn", { timeout: 150_000 });
});
