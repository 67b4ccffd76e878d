/** The whole job by keyboard alone, and the keystone by touch on a tablet. The same by pointer: `owl.spec.ts`. */

import { readFileSync } from "node:fs";
import type { CDPSession, Locator, Page } from "@playwright/test";
import { readPdf } from "../support/readPdf.ts";
import { expect, test } from "../support/window.ts";
import { answerOf, card, onBanker, pageOf, turnTo, undoWords, workedOut } from "./steps.ts";

/** What a screen reader would call what has the keyboard. */
const focused = (page: Page): Promise<string> =>
	page.evaluate(() => {
		const element = document.activeElement;
		if (!element || element === document.body) return "";
		const labels = "labels" in element ? [...((element as HTMLInputElement).labels ?? [])] : [];
		const words = labels.map((label) => label.textContent).join(" ");
		return (element.getAttribute("aria-label") ?? (words || (element.textContent ?? ""))).trim();
	});

const MOST_STEPS = 200;

/** Goes on with Tab, or back with Shift+Tab, until that name has the keyboard. */
async function stepTo(page: Page, name: string | RegExp, key: "Tab" | "Shift+Tab" = "Tab"): Promise<void> {
	const passed: string[] = [];
	for (let i = 0; i < MOST_STEPS; i++) {
		const now = await focused(page);
		if (typeof name === "string" ? now === name : name.test(now)) return;
		passed.push(now);
		await page.keyboard.press(key);
	}
	throw new Error(`${name} is not reached by ${key}: ${passed.slice(-40).join(" | ")}`);
}

async function press(page: Page, name: string | RegExp, key: "Tab" | "Shift+Tab" = "Tab"): Promise<void> {
	await stepTo(page, name, key);
	await page.keyboard.press("Enter");
}

/** Writes into the field of that name and leaves it by Enter. */
async function fill(page: Page, name: string | RegExp, value: string): Promise<void> {
	await stepTo(page, name);
	await page.keyboard.press("Control+a");
	await page.keyboard.type(value);
	await page.keyboard.press("Enter");
}

/** Places picked by the crosshair: so many steps down from where it is, each. */
async function pickDown(page: Page, ...steps: readonly number[]): Promise<void> {
	await expect(page.locator("#banker-canvas")).toBeFocused();
	for (const down of steps) {
		const key = down < 0 ? "ArrowUp" : "ArrowDown";
		for (let i = 0; i < Math.abs(down); i++) await page.keyboard.press(key);
		await page.keyboard.press("Enter");
	}
}

test("by keyboard alone: the owl from the first screen to the sheet, the log, the gold and the quote", async ({
	openWindow,
}) => {
	test.setTimeout(600_000);
	const page = await openWindow();
	await expect(page.getByRole("heading", { name: "Puntello" })).toBeVisible();
	await press(page, "Open Owl for a newel post");
	await expect(answerOf(page, "model")).toContainText("412", { timeout: 150_000 });
	const toPage = async (number: number): Promise<void> => {
		await page.keyboard.press(`Alt+${number}`);
		await expect(page.locator("[data-more]")).toHaveCount(0);
	};

	await test.step("leaves out the two finer rounds, so that the rest of this test is quick", async () => {
		await toPage(3);
		await press(page, "leave out the round last net");
		await expect(undoWords(page)).toHaveText("undo: leave out last net");
		await toPage(3);
		await press(page, "leave out the round close net");
		await expect(undoWords(page)).toHaveText("undo: leave out close net");
		await workedOut(page);
		await expect(answerOf(page, "points")).toContainText("in 2 rounds");
	});

	await test.step("chooses what stands on the bench, and reads a pair on the cast", async () => {
		await toPage(1);
		await stepTo(page, /^the scan alone/);
		await page.keyboard.press("ArrowUp");
		await expect(page.getByRole("radio", { name: /three callipers/ })).toBeChecked();
		await workedOut(page);
		await press(page, "Pick two places");
		await pickDown(page, -8, 14);
		await toPage(1);
		await fill(page, /^length read on the cast/, "151");
		const pair = page.getByRole("table", { name: "Calliper pairs" }).locator("tbody tr");
		await expect(pair).toHaveCount(1);
		await expect(pair).toContainText("151.0");
		await toPage(1);
		await press(page, "remove calliper pair 1");
		await expect(pair).toHaveCount(0);
	});

	await test.step("turns it and back, and makes it a little larger", async () => {
		await toPage(1);
		await press(page, "turn round");
		await expect(undoWords(page)).toHaveText("undo: turn round 90°");
		await press(page, "as scanned");
		await expect(undoWords(page)).toHaveText("undo: stand it as scanned");
		await fill(page, /^height in stone/, "413");
		await expect(answerOf(page, "model")).toContainText("413");
	});

	await test.step("gives the block another height, reads how it fits, marks a flaw, has a cut proposed", async () => {
		await toPage(2);
		await fill(page, /^height/, "460");
		await expect(undoWords(page)).toContainText("height of the block 460");
		await workedOut(page);
		await expect(page.locator('[data-answer="fit"]')).toContainText("Yes");
		await toPage(2);
		await press(page, "Add a flaw");
		await expect(undoWords(page)).toHaveText("undo: a flaw");
		await toPage(2);
		await fill(page, /^through cuts to propose/, "1");
		await expect(card(page, "Cuts and bridges").locator("table").first().locator("tbody tr")).toHaveCount(1, {
			timeout: 150_000,
		});
		await workedOut(page);
	});

	await test.step("picks a datum and nudges it along the surface", async () => {
		await toPage(3);
		await press(page, "pick datum A on the model");
		await pickDown(page, 6);
		await expect(undoWords(page)).toHaveText("undo: pick datum A");
		await page.keyboard.press("ArrowRight");
		await expect(undoWords(page)).toHaveText("undo: move datum A");
		await workedOut(page);
	});

	await test.step("joins higher, and walks along the tape", async () => {
		await toPage(3);
		await fill(page, /^leave standing at the join/, "10.5");
		await expect(undoWords(page)).toContainText("high points");
		await workedOut(page);
		// Past the day book by its skip link, as one would who knows the way.
		await toPage(1);
		await press(page, "to the model", "Shift+Tab");
		await expect(page.locator("#banker-canvas")).toBeFocused();
		await stepTo(page, "points in the order of work");
		await page.keyboard.press("Home");
		await page.keyboard.press("ArrowRight");
		await expect(tapeOf(page)).toHaveAttribute("aria-valuetext", /^Point 2, /);
	});

	await test.step("looks at an undercut, and lists a few points", async () => {
		await toPage(3);
		await stepTo(page, "which");
		await page.keyboard.press("ArrowDown");
		await expect(page.locator(".tape-side b")).toContainText(/^[1-9]\d* of/);
		await stepTo(page, /^show point \d+$/);
		await expect(tapeOf(page)).toHaveAttribute("aria-valuetext", /: undercut\. \S/);
		await page.keyboard.press("Enter");
		await expect(card(page, "The hole, cut open")).toContainText("is an undercut and has no hole");
		await stepTo(page, "which", "Shift+Tab");
		await page.keyboard.press("ArrowUp");
		await stepTo(page, "look for", "Shift+Tab");
		await page.keyboard.type("1-5");
		await expect(page.locator(".compact-list tr.pick")).toHaveCount(5);
		await page.keyboard.press("Control+a");
		await page.keyboard.press("Delete");
	});

	const saved = async (button: string): Promise<Buffer> => {
		const download = page.waitForEvent("download", { timeout: 240_000 });
		await press(page, button);
		return readFileSync(await (await download).path());
	};

	await test.step("draws the sheets; every point of the plan is on them", async () => {
		await toPage(4);
		const pdf = await readPdf(new Uint8Array(await saved("Save the PDF")));
		const plan = JSON.parse((await saved("Plan (JSON)")).toString("utf8")) as { points: { number: number }[] };
		expect(pdf.pages.length).toBeGreaterThan(0);
		const said = new Set(pdf.pages.flatMap((one) => one.texts.map((text) => text.words.trim())));
		expect(plan.points.filter(({ number }) => !said.has(String(number)))).toEqual([]);
	});

	await test.step("does a point at the bench and reads another", async () => {
		await press(page, "Work at the bench");
		const view = page.getByRole("main", { name: "bench view" });
		const number = view.getByRole("heading", { level: 1 });
		await expect(number).toHaveText("1");
		await press(page, "done");
		await expect(number).toHaveText("2");
		await press(page, "reads …", "Shift+Tab");
		await press(page, "left over the figure");
		await page.keyboard.type("2.5");
		await press(page, "take it");
		await expect(view.getByText(/^Read: /)).toBeVisible();
		await page.keyboard.press("Escape");
		await expect(view).toHaveCount(0);
		await expect.poll(() => focused(page)).toBe("Work at the bench");
		const log = pageOf(page, "bench").locator(".log-list li");
		await expect(log).toHaveCount(2);
		await expect(log.last()).toContainText("point 1 done");
		await expect(answerOf(page, "bench")).toContainText(/^1 of \d+/);
		await expect(card(page, "Has anything moved?")).toContainText(/proof marks|From what was read/);
	});

	await test.step("dabs on some gold, and asks another rate for the quote", async () => {
		await toPage(5);
		await press(page, "Add an area");
		await pickDown(page, 0);
		await expect(undoWords(page)).toHaveText("undo: brush a gilded area");
		await expect(pageOf(page, "finish")).toContainText(/cm² on the surface itself: \d+ lea/);
		await page.keyboard.press("Escape");
		await workedOut(page);
		const before = (await answerOf(page, "finish").textContent()) ?? "";
		await toPage(5);
		await press(page, "Every figure that it rests on");
		await fill(page, /^an hour of work/, "95");
		await expect(answerOf(page, "finish")).not.toHaveText(before);
	});
});

const tapeOf = (page: Page): Locator => page.getByRole("slider", { name: "points in the order of work" });

/** Interactive things that are shown and smaller than a fingertip needs, with their labels (WCAG 2.2, 2.5.8: 24 by 24). */
const tooSmall = (page: Page): Promise<string[]> =>
	page.evaluate(() =>
		[...document.querySelectorAll<HTMLElement>("button, input, select, summary, a[href], [role=slider]")]
			.filter((element) => !element.matches(".unseen, .skip") && element.getClientRects().length > 0)
			.flatMap((element) => {
				const labels = "labels" in element ? [...((element as HTMLInputElement).labels ?? [])] : [];
				const boxes = [element, ...labels].map((one) => one.getBoundingClientRect());
				const width = Math.max(...boxes.map((b) => b.right)) - Math.min(...boxes.map((b) => b.left));
				const height = Math.max(...boxes.map((b) => b.bottom)) - Math.min(...boxes.map((b) => b.top));
				return width < 23.9 || height < 23.9
					? [`${Math.round(width)} × ${Math.round(height)} ${element.outerHTML.slice(0, 90)}`]
					: [];
			}),
	);

/** Things of the window that lie over each other, or reach out of it. */
const crowded = (page: Page): Promise<string[]> =>
	page.evaluate(() => {
		const over = [...document.querySelectorAll(".banker-tools > *, .views button, .scale-bar, .legend")].filter(
			(element) => element.getClientRects().length > 0,
		);
		const boxes = over.map((element) => element.getBoundingClientRect());
		const banker = (document.querySelector(".banker") as Element).getBoundingClientRect();
		return over.flatMap((element, i) => {
			const a = boxes[i];
			const meets = boxes.some(
				(b, k) => k !== i && a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom,
			);
			const out = a.left < banker.left || a.right > banker.right || a.top < banker.top || a.bottom > banker.bottom;
			return meets || out ? [element.outerHTML.slice(0, 90)] : [];
		});
	});

test.describe("on a tablet", () => {
	test.use({ viewport: { width: 1024, height: 768 }, hasTouch: true });

	test("the keystone by touch: turned, moved, brought near, points tapped, the bench worked", async ({
		openWindow,
	}) => {
		test.setTimeout(300_000);
		const page = await openWindow();
		expect(await tooSmall(page)).toEqual([]);
		await page.getByRole("button", { name: "Open Keystone with a leaf face" }).tap();
		await workedOut(page);
		const fingers = await page.context().newCDPSession(page);
		const head = (title: "model" | "stone" | "points" | "bench" | "finish") =>
			pageOf(page, title).locator(".page-head").tap();

		await test.step("every page fits the screen and its targets a finger", async () => {
			for (const title of ["model", "stone", "points", "bench", "finish"] as const) {
				await head(title);
				await turnTo(page, title);
				expect(await tooSmall(page), title).toEqual([]);
				expect(await crowded(page), title).toEqual([]);
			}
		});

		await head("points");
		const front = page.locator(".views").getByRole("button", { name: "front", exact: true });
		const middle = await onBanker(page, 0.5, 0.45);
		const bar = page.locator(".scale-bar");

		await test.step("two fingers bring it near and move it, one finger turns it", async () => {
			await front.tap();
			await expect(front).toHaveAttribute("aria-pressed", "true");
			const [words, wide] = [await bar.textContent(), (await bar.boundingBox())?.width];
			await drag(fingers, [apart(middle, 30), apart(middle, -30)], [apart(middle, 120), apart(middle, -120)]);
			await expect
				.poll(async () => [await bar.textContent(), (await bar.boundingBox())?.width])
				.not.toEqual([words, wide]);
			const [near, nearWide] = [await bar.textContent(), (await bar.boundingBox())?.width];
			const pair = [apart(middle, 40), apart(middle, -40)];
			const pixels = (): Promise<Buffer> => page.locator(".scene-canvas").screenshot();
			const before = await pixels();
			await drag(
				fingers,
				pair,
				pair.map(({ x, y }) => ({ x: x + 90, y: y + 40 })),
			);
			await expect.poll(async () => (await pixels()).equals(before)).toBe(false);
			// Neither turned nor nearer.
			await expect(front).toHaveAttribute("aria-pressed", "true");
			expect([await bar.textContent(), (await bar.boundingBox())?.width]).toEqual([near, nearWide]);
			await drag(fingers, [middle], [{ x: middle.x + 80, y: middle.y + 10 }]);
			await expect(front).toHaveAttribute("aria-pressed", "false");
			await expect(undoWords(page)).toHaveText("nothing to undo");
		});

		const tape = tapeOf(page);
		const none = /^no point$/;
		await test.step("a tap on a point lights it, and it stays lit", async () => {
			await page.getByRole("button", { name: "show all" }).tap();
			await front.tap();
			await expect(tape).toHaveAttribute("aria-valuetext", none);
			await expect(async () => {
				const at = await onBanker(page, 0.4 + 0.2 * Math.random(), 0.3 + 0.3 * Math.random());
				await page.touchscreen.tap(at.x, at.y);
				await expect(tape).toHaveAttribute("aria-valuetext", /^Point \d+/, { timeout: 200 });
			}).toPass();
		});

		await test.step("the tape is tapped, and a run brushed and cleared", async () => {
			const box = await tape.boundingBox();
			if (!box) throw new Error("there is no tape");
			const y = box.y + box.height / 2;
			await page.touchscreen.tap(box.x + 3 * (box.width / 4), y);
			await expect(tape).toHaveAttribute("aria-valuetext", /^Point [12]\d\d/);
			await drag(fingers, [{ x: box.x + 100, y }], [{ x: box.x + 220, y }]);
			await page.getByRole("button", { name: "clear the run" }).tap();
			await expect(page.getByRole("button", { name: "clear the run" })).toHaveCount(0);
		});

		await test.step("two fingers that come while a mark is drawn leave no mark", async () => {
			await page.getByText("no points", { exact: true }).tap();
			await page.getByRole("button", { name: "Brush on the model" }).tap();
			await drag(fingers, [middle, apart(middle, 60)], [apart(middle, -20), apart(middle, 120)], true);
			await page.getByRole("button", { name: "Done brushing" }).tap();
			await expect(undoWords(page)).toHaveText("nothing to undo");
		});

		await test.step("a point is done and one read at the bench", async () => {
			await head("bench");
			await page.getByRole("button", { name: "Work at the bench" }).tap();
			const view = page.getByRole("main", { name: "bench view" });
			expect(await tooSmall(page), "bench view").toEqual([]);
			await view.getByRole("button", { name: "done", exact: true }).tap();
			await view.getByRole("button", { name: "reads …" }).tap();
			expect(await tooSmall(page), "keypad").toEqual([]);
			await view.getByRole("button", { name: "left over the figure" }).tap();
			for (const key of ["3", "point", "5"]) await view.getByRole("button", { name: key, exact: true }).tap();
			await view.getByRole("button", { name: "take it" }).tap();
			await view.getByRole("button", { name: "to the planner" }).tap();
			await expect(pageOf(page, "bench").locator(".log-list li")).toHaveCount(2);
		});

		await test.step("the day book is folded away and comes back", async () => {
			await page.getByRole("button", { name: "fold the day book" }).tap();
			await expect(page.locator(".pages")).toHaveCount(0);
			await page.getByRole("button", { name: "unfold the day book" }).tap();
			await expect(page.locator(".pages")).toBeVisible();
		});
	});
});

interface At {
	readonly x: number;
	readonly y: number;
}
const apart = ({ x, y }: At, by: number): At => ({ x: x + by, y });
const STROKES = 8;

/** Fingers set down together, or one after another, drawn to other places and lifted. */
async function drag(session: CDPSession, from: readonly At[], to: readonly At[], inTurn = false): Promise<void> {
	const touch = (type: "touchStart" | "touchMove" | "touchEnd", touchPoints: readonly At[]) =>
		session.send("Input.dispatchTouchEvent", { type, touchPoints: touchPoints.map((at, id) => ({ ...at, id })) });
	if (inTurn) for (let n = 1; n < from.length; n++) await touch("touchStart", from.slice(0, n));
	await touch("touchStart", from);
	for (let i = 1; i <= STROKES; i++)
		await touch(
			"touchMove",
			from.map(({ x, y }, k) => ({ x: x + ((to[k].x - x) * i) / STROKES, y: y + ((to[k].y - y) * i) / STROKES })),
		);
	await touch("touchEnd", []);
}
