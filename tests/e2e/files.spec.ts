/** Files that cannot be used, and work that is found again. */

import { readFileSync } from "node:fs";
import { join } from "node:path";
import { openHost } from "../../electron/openHost.ts";
import { expect, test } from "../support/window.ts";
import { answerOf, chooseScan, eggScan, fixture, turnTo, undoWords, workedOut, write } from "./steps.ts";

const REFUSED = Object.keys(
	(JSON.parse(readFileSync(fixture("expected.json"), "utf8")) as { refused: Record<string, string> }).refused,
);

test("a bad file gets one line and nothing is lost", async ({ openWindow, home }) => {
	const page = await openWindow();
	await test.step("on the first screen", async () => {
		await chooseScan(page, fixture("truncated.stl"));
		const line = page.locator(".first .trouble");
		await expect(line).toContainText("truncated.stl");
		expect(await line.textContent()).not.toContain("\n");
	});
	await chooseScan(page, eggScan(home));
	await workedOut(page);
	await turnTo(page, "stone");
	await write(page, "the same all round", "12");
	await workedOut(page);
	const answers = await page.locator(".page-answer").allInnerTexts();
	for (const name of REFUSED)
		await test.step(name, async () => {
			await page.getByRole("button", { name: /Model/ }).click();
			await chooseScan(page, fixture(name));
			const line = page.locator(".banker-word[role=alert]");
			await expect(line).toContainText(name);
			expect(((await line.textContent()) ?? "").replace("all right", "").trim()).not.toContain("\n");
			expect(await page.locator(".page-answer").allInnerTexts()).toEqual(answers);
			await expect(undoWords(page)).toContainText("margins 12.0");
			await line.getByRole("button", { name: "all right" }).click();
			await expect(line).toHaveCount(0);
		});
});

test("a scan dropped on the window is opened, and a unit in doubt is asked for", async ({ openWindow }) => {
	const page = await openWindow();
	const bytes = [...readFileSync(fixture("head-size-inches.stl"))];
	const dropped = await page.evaluateHandle((data) => {
		const carried = new DataTransfer();
		carried.items.add(new File([new Uint8Array(data)], "head.stl"));
		return carried;
	}, bytes);
	await page.locator(".window").dispatchEvent("dragover", { dataTransfer: dropped });
	await expect(page.locator(".dropping")).toBeVisible();
	await page.locator(".window").dispatchEvent("drop", { dataTransfer: dropped });
	await expect(answerOf(page, "model")).toContainText("head.stl");
	const question = page.locator(".page-body .card").first();
	await expect(question).toContainText("In which unit is the file?");
	await expect(question).toContainText("Choose the unit that gives the right size.");
	await question.getByRole("button", { name: /^in:/ }).click();
	await expect(page.getByText("Choose the unit that gives the right size.")).toHaveCount(0);
	await workedOut(page);
	await expect(answerOf(page, "model")).toContainText("high");
	await expect(page.getByLabel("unit of the file")).toHaveValue("in");
});

test("what was worked on is kept and can be gone on with", async ({ openWindow, page: first }) => {
	void first;
	const page = await openWindow("leaf-face");
	await workedOut(page);
	await turnTo(page, "stone");
	await write(page, "top", "21");
	await expect(page.getByText("kept", { exact: true })).toBeVisible();
	await openWindow();
	const kept = page.locator(".offer", { hasText: "leaf-face.ply" });
	await kept.getByRole("button", { name: "Go on" }).click();
	await expect(answerOf(page, "model")).toContainText("high", { timeout: 150_000 });
	await turnTo(page, "stone");
	await expect(page.getByLabel("top", { exact: true })).toHaveValue("21.0");
});

test("a commission saved as a file, put away and opened again asks for its scan and goes on", async ({
	openWindow,
	home,
	browser,
}) => {
	const page = await openWindow(eggScan(home));
	await workedOut(page);
	await turnTo(page, "stone");
	await write(page, "the same all round", "9");
	const saving = page.waitForEvent("download");
	await page.getByRole("button", { name: "save as" }).click();
	const saved = join(home, "egg.commission.json");
	await (await saving).saveAs(saved);
	await page.getByRole("button", { name: "put away" }).click();
	// Put away is kept: it is offered again on the first screen.
	await expect(page.locator(".offer", { hasText: "egg.stl" })).toBeVisible();
	// Another carver's browser, which has never seen the scan.
	const host = await openHost({ home: join(home, "another") });
	const elsewhere = await browser.newContext();
	const other = await elsewhere.newPage();
	await other.goto(host.url);
	await chooseScan(other, saved);
	await expect(other.getByText("its scan, egg.stl, was not found where it was")).toBeVisible();
	await chooseScan(other, join(home, "egg.stl"));
	await workedOut(other);
	await turnTo(other, "stone");
	await expect(other.getByLabel("top", { exact: true })).toHaveValue("9.0");
	// The file was shown to this window, which reads it again without asking.
	await other.getByRole("button", { name: "put away" }).click();
	await other.locator(".offer", { hasText: "egg.stl" }).getByRole("button", { name: "Go on" }).click();
	await workedOut(other);
	await expect(other.getByLabel("top", { exact: true })).toHaveValue("9.0");
	// The file again: as it was left, and as the file is where that is asked for.
	await write(other, "the same all round", "3");
	await expect(other.getByText("kept", { exact: true })).toBeVisible();
	await other.getByRole("button", { name: "put away" }).click();
	await chooseScan(other, saved);
	await expect(other.locator(".book-head [role=status]")).toContainText("go on where you left it");
	await expect(other.getByLabel("top", { exact: true })).toHaveValue("3.0");
	await other.getByRole("button", { name: "open the file as it is" }).click();
	await expect(other.getByLabel("top", { exact: true })).toHaveValue("9.0");
	await expect(other.locator(".book-head [role=status]")).toHaveCount(0);
	await elsewhere.close();
	await host.close();
});

test("nothing typed is lost when the host goes away", async ({ page, home }) => {
	const host = await openHost({ argument: eggScan(home), home });
	await page.goto(host.url);
	await workedOut(page);
	await host.close();
	await turnTo(page, "stone");
	await write(page, "the same all round", "7");
	await expect(page.locator(".book-head [role=alert]")).toContainText("does not answer");
	await workedOut(page);
	const saving = page.waitForEvent("download");
	await page.getByRole("button", { name: "save as" }).click();
	const saved = join(home, "rescued.json");
	await (await saving).saveAs(saved);
	expect(JSON.parse(readFileSync(saved, "utf8")).stone.margins_mm.top).toBe(7);
});
