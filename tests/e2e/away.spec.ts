/** The host is killed, stuck or full, the page dies, another window or program is at the same work: nothing typed is lost. */

import { type ChildProcess, spawn } from "node:child_process";
import { copyFileSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "@playwright/test";
import { newCommission } from "../../core/plan/commission.ts";
import { PROJECT } from "../../electron/build.ts";
import { expect, test } from "../support/window.ts";
import { answerOf, chooseScan, eggScan, pageOf, turnTo, workedOut, write } from "./steps.ts";

interface HostProcess {
	readonly url: string;
	readonly child: ChildProcess;
	kill(): Promise<void>;
}

/** The real program in a process of its own, as `npm start -- --address` runs it. */
async function startProgram(home: string, argument: string): Promise<HostProcess> {
	const child = spawn(process.execPath, ["--import", "tsx", "electron/start.ts", "--address", argument], {
		cwd: PROJECT,
		env: { ...process.env, PUNTELLO_HOME: home, DISPLAY: ":99" },
		stdio: ["ignore", "pipe", "inherit"],
	});
	const gone = new Promise<void>((resolve) => child.once("close", () => resolve()));
	let words = "";
	child.stdout.on("data", (part: Buffer) => {
		words += part.toString();
	});
	await expect.poll(() => words).toMatch(/http:\/\/\S+/);
	return {
		url: /http:\/\/\S+/.exec(words)?.[0] ?? "",
		child,
		kill() {
			child.kill("SIGKILL");
			return gone;
		},
	};
}

const margins = (page: Page, value: string): Promise<void> => write(page, "the same all round", value);
const kept = (page: Page) => page.getByText("kept", { exact: true });
const alert = (page: Page) => page.locator(".book-head [role=alert]");
const MARGIN = "top";

/** Margin at the top in every kept commission, in no order. */
const margin = (home: string): number[] =>
	readdirSync(join(home, "commissions"))
		.filter((name) => name.endsWith(".commission.json"))
		.map((name) => JSON.parse(readFileSync(join(home, "commissions", name), "utf8")).stone.margins_mm.top)
		.sort((a, b) => a - b);

test("a host that is killed: the page says so, goes on, and hands over to the next one", async ({ page, home }) => {
	const first = await startProgram(home, eggScan(home));
	await page.goto(first.url);
	await workedOut(page);
	await turnTo(page, "stone");
	await margins(page, "7");
	await expect.poll(() => margin(home)).toEqual([7]);
	await first.kill();
	await margins(page, "8");
	await expect(alert(page)).toContainText("does not answer");
	await expect(alert(page)).toContainText("your browser holds it");
	await workedOut(page);
	await margins(page, "9");
	await workedOut(page);

	const second = await startProgram(home, eggScan(home));
	try {
		expect(new URL(second.url).port).toBe(new URL(first.url).port);
		// As the program itself would: the new address in the same browser, in a tab of its own.
		const tab = await page.context().newPage();
		await tab.goto(second.url);
		await expect(kept(page)).toBeVisible();
		await expect(alert(page)).toHaveCount(0);
		await expect.poll(() => margin(home)).toContain(9);
		await margins(page, "11");
		await expect.poll(() => margin(home)).toContain(11);
		expect(margin(home)).not.toContain(9);
	} finally {
		await second.kill();
	}
});

test("a host that is killed, and then the page is closed: the next window brings the work back", async ({
	page,
	home,
}) => {
	const first = await startProgram(home, eggScan(home));
	await page.goto(first.url);
	await workedOut(page);
	await turnTo(page, "stone");
	await first.kill();
	await margins(page, "13");
	await expect(alert(page)).toContainText("your browser holds it");
	const asked: string[] = [];
	page.on("dialog", (dialog) => {
		asked.push(dialog.message());
		void dialog.accept();
	});
	const context = page.context();
	await page.close({ runBeforeUnload: true });
	await expect.poll(() => page.isClosed()).toBe(true);
	expect(asked).toEqual([]);
	const other = join(home, "other.stl");
	copyFileSync(join(home, "egg.stl"), other);
	const second = await startProgram(home, other);
	try {
		const next = await context.newPage();
		await next.goto(second.url);
		await expect(next.locator(".book-head [role=status]")).toContainText("egg");
		await expect.poll(() => margin(home)).toContain(13);
		await next.getByRole("button", { name: "put away" }).click();
		await next.getByRole("button", { name: "Go on with egg" }).click();
		await workedOut(next);
		await turnTo(next, "stone");
		await expect(next.getByLabel(MARGIN, { exact: true })).toHaveValue("13.0");
	} finally {
		await second.kill();
	}
});

test("a host that is stuck is told like one that is gone, and goes on when it wakes", async ({ page, home }) => {
	const host = await startProgram(home, eggScan(home));
	try {
		await page.goto(host.url);
		await workedOut(page);
		await turnTo(page, "stone");
		host.child.kill("SIGSTOP");
		await margins(page, "6");
		await expect(alert(page)).toContainText("your browser holds it");
		host.child.kill("SIGCONT");
		await expect(kept(page)).toBeVisible();
		expect(margin(home)).toEqual([6]);
	} finally {
		await host.kill();
	}
});

test("a page that dies or is loaded anew goes on with its work, and makes no second commission of it", async ({
	openWindow,
	home,
}) => {
	const page = await openWindow(eggScan(home));
	await workedOut(page);
	await turnTo(page, "stone");
	await margins(page, "5");
	await expect(kept(page)).toBeVisible();
	await page.reload();
	await turnTo(page, "stone");
	await expect(page.getByLabel(MARGIN, { exact: true })).toHaveValue("5.0");
	await workedOut(page);
	// Typed and closed at once.
	await margins(page, "4");
	const address = page.url();
	const context = page.context();
	await page.close({ runBeforeUnload: true });
	await expect.poll(() => margin(home)).toEqual([4]);

	const doomed = await context.newPage();
	await doomed.goto(address);
	await workedOut(doomed);
	const crashed = new Promise((resolve) => doomed.once("crash", resolve));
	const remote = await context.newCDPSession(doomed);
	remote.send("Page.crash").catch(() => {});
	await crashed;
	const again = await context.newPage();
	await again.goto(address);
	await turnTo(again, "stone");
	await expect(again.getByLabel(MARGIN, { exact: true })).toHaveValue("4.0");
	expect(margin(home)).toEqual([4]);
});

test("two windows on one commission, and a program beside them, do not overwrite each other", async ({
	openWindow,
	home,
}) => {
	const one = await openWindow(eggScan(home));
	await workedOut(one);
	await turnTo(one, "stone");
	await margins(one, "5");
	await expect(kept(one)).toBeVisible();
	const two = await one.context().newPage();
	await two.goto(one.url());
	await workedOut(two);
	await turnTo(two, "stone");
	await margins(two, "6");
	await expect.poll(() => margin(home)).toEqual([6]);
	await margins(one, "7");
	await expect(alert(one)).toContainText("another window or program");
	await expect.poll(() => margin(home)).toEqual([6, 7]);
	await margins(two, "8");
	await expect.poll(() => margin(home)).toEqual([7, 8]);
	await expect(alert(two)).toHaveCount(0);

	const name = readdirSync(join(home, "commissions")).find((one) =>
		readFileSync(join(home, "commissions", one), "utf8").includes('"top":8'),
	);
	const file = join(home, "commissions", name ?? "");
	const outside = readFileSync(file, "utf8").replace('"top":8', '"top":3');
	writeFileSync(file, outside);
	await margins(two, "9");
	await expect(alert(two)).toContainText("another window or program");
	await expect.poll(() => margin(home)).toEqual([3, 7, 9]);
	expect(readFileSync(file, "utf8")).toBe(outside);
});

test("where nothing can be written it is said, and kept once it can be", async ({ openWindow, home }) => {
	const page = await openWindow(eggScan(home));
	await workedOut(page);
	await turnTo(page, "stone");
	const folder = join(home, "commissions");
	renameSync(folder, `${folder}-away`);
	writeFileSync(folder, "a file where the folder was");
	await margins(page, "5");
	await expect(alert(page)).toContainText("a folder was expected");
	rmSync(folder);
	renameSync(`${folder}-away`, folder);
	await expect(kept(page)).toBeVisible();
	expect(margin(home)).toEqual([5]);
});

test("a scan that moved is found again by its fingerprint", async ({ openWindow, home }) => {
	const scan = eggScan(home);
	const page = await openWindow(scan);
	await workedOut(page);
	await turnTo(page, "stone");
	await margins(page, "5");
	await expect(kept(page)).toBeVisible();
	mkdirSync(join(home, "2030"));
	renameSync(scan, join(home, "2030", "the egg.stl"));
	await openWindow();
	await page.getByRole("button", { name: "Go on with egg" }).click();
	await workedOut(page);
	await turnTo(page, "stone");
	await expect(page.getByLabel(MARGIN, { exact: true })).toHaveValue("5.0");
});

test("a scan chosen by hand is not asked for again, even where its file has gone", async ({ openWindow, home }) => {
	const scan = eggScan(home);
	const page = await openWindow();
	await chooseScan(page, scan);
	await workedOut(page);
	await turnTo(page, "stone");
	await margins(page, "5");
	await expect(kept(page)).toBeVisible();
	rmSync(scan);
	await page.reload();
	await workedOut(page);
	await turnTo(page, "stone");
	await expect(page.getByLabel(MARGIN, { exact: true })).toHaveValue("5.0");
	await page.getByRole("button", { name: "put away" }).click();
	await page.getByRole("button", { name: "Go on with egg" }).click();
	await workedOut(page);
	await turnTo(page, "stone");
	await expect(page.getByLabel(MARGIN, { exact: true })).toHaveValue("5.0");
	expect(margin(home)).toEqual([5]);
});

test("a commission of a newer Puntello is refused in words and left as it is", async ({ openWindow, home }) => {
	const id = "00112233445566ff";
	const newer = JSON.stringify({ ...newCommission("owl.stl"), name: "From tomorrow", version: 2, colour: "red" });
	mkdirSync(join(home, "commissions"), { recursive: true });
	const file = join(home, "commissions", `${id}.commission.json`);
	writeFileSync(file, newer);
	const page = await openWindow();
	await page.getByRole("button", { name: "Go on with From tomorrow" }).click();
	await expect(page.locator(".first .trouble")).toContainText("newer Puntello");
	// Other work goes on, and the newer file is not touched by it.
	await chooseScan(page, eggScan(home));
	await workedOut(page);
	await expect(answerOf(page, "model")).toContainText("high");
	await expect(pageOf(page, "model")).toBeVisible();
	expect(readFileSync(file, "utf8")).toBe(newer);
});
