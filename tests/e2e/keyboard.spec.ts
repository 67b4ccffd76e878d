/** The window by keyboard alone, its table twin, both themes, and what it shows at other sizes. */

import { expect, test } from "../support/window.ts";
import { answerOf, chooseScan, eggScan, pageOf, turnTo, undoWords, workedOut } from "./steps.ts";

test("by keyboard: a demo, a datum picked and moved, the tape, the table", async ({ openWindow, home }) => {
	test.setTimeout(300_000);
	const page = await openWindow();
	await chooseScan(page, eggScan(home));
	await workedOut(page);

	await test.step("pages by Alt and their number", async () => {
		await page.keyboard.press("Alt+3");
		await expect(pageOf(page, "points").locator(".page-body")).toBeVisible();
	});

	await test.step("picks where the crosshair is", async () => {
		await page.getByRole("button", { name: "pick datum A on the model" }).focus();
		await page.keyboard.press("Enter");
		await page.locator("#banker-canvas").focus();
		await page.keyboard.press("ArrowUp");
		await page.keyboard.press("Enter");
		await expect(undoWords(page)).toHaveText("undo: pick datum A");
		await workedOut(page);
	});

	await test.step("nudges what is held", async () => {
		await page.locator("#banker-canvas").focus();
		await page.keyboard.press("ArrowLeft");
		await page.keyboard.press("ArrowLeft");
		await expect(undoWords(page)).toHaveText("undo: move datum A");
		await page.keyboard.press("Control+z");
		await expect(undoWords(page)).toHaveText("undo: pick datum A");
		await workedOut(page);
	});

	await test.step("walks along the tape, and the table follows", async () => {
		const tape = page.getByRole("slider", { name: "points in the order of work" });
		await tape.focus();
		await page.keyboard.press("Home");
		await expect(tape).toHaveAttribute("aria-valuetext", /^Point 1, /);
		await page.keyboard.press("ArrowRight");
		await expect(tape).toHaveAttribute("aria-valuetext", /^Point 2, /);
		await page.getByRole("button", { name: "points as a table" }).click();
		const rows = page.locator(".whole-list tbody tr.pick");
		await expect(rows.first()).toBeVisible();
		await expect(page.locator(".whole-list tr.pointed .number-button")).toHaveText("2");
		const placed = Number(/\d+/.exec((await answerOf(page, "points").textContent()) ?? "")?.[0]);
		expect(Number(await page.locator(".whole-list table").getAttribute("aria-rowcount"))).toBeGreaterThanOrEqual(
			placed + 1,
		);
		await page.keyboard.press("Escape");
		await expect(page.locator(".whole-list")).toHaveCount(0);
	});

	await test.step("the filter holds for list, tape and banker", async () => {
		await page.getByLabel("look for").fill("1-5");
		await expect(page.locator(".tape-side b")).toContainText("5 of");
		await expect(page.locator(".compact-list tr.pick")).toHaveCount(5);
	});
});

test("every control of every page has a name, and focus is seen", async ({ openWindow, home }) => {
	const page = await openWindow();
	await chooseScan(page, eggScan(home));
	await workedOut(page);
	for (const title of ["model", "stone", "points", "bench", "finish"] as const) {
		await turnTo(page, title);
		const nameless = await page.evaluate(() =>
			[...document.querySelectorAll("button, input:not([aria-hidden]), select, [role=slider], [role=application]")]
				.filter((element) => {
					const labels = "labels" in element ? [...((element as HTMLInputElement).labels ?? [])] : [];
					const words = [
						element.getAttribute("aria-label"),
						element.textContent,
						...labels.map((label) => label.textContent),
					];
					return !words.some((word) => word && word.trim() !== "");
				})
				.map((element) => element.outerHTML.slice(0, 120)),
		);
		expect(nameless, title).toEqual([]);
	}
	await page.keyboard.press("Tab");
	const ring = await page.evaluate(() => getComputedStyle(document.activeElement as Element).outlineWidth);
	expect(Number.parseFloat(ring)).toBeGreaterThanOrEqual(2);
});

test("nothing is clipped or lies over another at 1024 × 768, in both themes", async ({ openWindow, home }) => {
	const page = await openWindow();
	await page.setViewportSize({ width: 1024, height: 768 });
	await chooseScan(page, eggScan(home));
	await workedOut(page);
	for (const title of ["model", "stone", "points", "bench", "finish"] as const) {
		await turnTo(page, title);
		const wide = await page.evaluate(() =>
			[...document.querySelectorAll(".page-body *")]
				.filter((element) => {
					const box = element.getBoundingClientRect();
					const book = (document.querySelector(".book") as Element).getBoundingClientRect();
					return box.width > 0 && (box.right > book.right + 0.5 || box.left < book.left - 0.5);
				})
				.map((element) => element.outerHTML.slice(0, 100)),
		);
		expect(wide, title).toEqual([]);
	}
	const overlaps = await page.evaluate(() => {
		const boxes = [...document.querySelectorAll(".banker-tools > *, .views button, .scale-bar")].map((element) =>
			element.getBoundingClientRect(),
		);
		return boxes.flatMap((a, i) =>
			boxes.slice(i + 1).filter((b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom),
		).length;
	});
	expect(overlaps).toBe(0);
	await page.getByRole("button", { name: "change to slate" }).click();
	await expect(page.locator("html")).toHaveAttribute("data-theme", "slate");
	const light = (name: string): Promise<number> =>
		page.evaluate((variable) => {
			const hex = getComputedStyle(document.documentElement).getPropertyValue(variable).trim();
			const channel = [1, 3, 5].map((i) => {
				const s = Number.parseInt(hex.slice(i, i + 2), 16) / 255;
				return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
			});
			return 0.2126 * channel[0] + 0.7152 * channel[1] + 0.0722 * channel[2];
		}, name);
	// WCAG 2.2, 1.4.3: 4.5 to 1 for words; 1.4.11: 3 to 1 for lines that matter.
	const pairs = [
		["--ink", "--page", 4.5],
		["--ink", "--page-open", 4.5],
		["--ink-soft", "--page", 4.5],
		["--ink-soft", "--page-open", 4.5],
		["--raddle", "--page-open", 4.5],
		["--raddle", "--page", 4.5],
		["--on-raddle", "--raddle", 4.5],
		["--slate", "--page-open", 4.5],
		["--ink", "--raddle-wash", 4.5],
		["--ink", "--slate-wash", 4.5],
		["--tape-ink", "--tape", 4.5],
		["--ink", "--wall-top", 4.5],
		["--ink", "--wall-foot", 4.5],
		["--line-strong", "--page-open", 3],
		["--focus", "--page-open", 3],
		["--focus", "--wall-foot", 3],
		["--tape-line", "--tape", 3],
	] as const;
	for (const name of ["slate", "paper"]) {
		for (const [a, b, least] of pairs) {
			const [x, y] = [await light(a), await light(b)];
			const ratio = (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05);
			expect(ratio, `${name}: ${a} on ${b}`).toBeGreaterThanOrEqual(least);
		}
		if (name === "paper") break;
		await page.getByRole("button", { name: "change to paper" }).click();
		await expect(page.locator("html")).toHaveAttribute("data-theme", "paper");
	}
});
