/** A scan of 1.6 million triangles: the window answers while it is opened, and shows it. */

import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { writeBinaryStl } from "../../core/scan/writeScan.ts";
import { rippledRing } from "../support/rippledRing.ts";
import { expect, test } from "../support/window.ts";
import { chooseScan, clickBanker } from "./steps.ts";

/** A window that is held up longer than this is felt to hang. */
const LONGEST_TASK_MS = 50;

// Another program that takes the processors for a moment makes any task long.
test.describe.configure({ retries: 2 });
// Recording what happens would itself take the window's thread.
test.use({ trace: "off", screenshot: "off" });

test("no task of the window's thread takes over 50 ms while 1.6 million triangles are opened", async ({
	openWindow,
	home,
}) => {
	test.setTimeout(300_000);
	const path = join(home, "ring.stl");
	const ring = rippledRing(1264, 633);
	writeFileSync(path, writeBinaryStl(ring));
	const page = await openWindow();
	await expect(page.getByRole("heading", { name: "Puntello" })).toBeVisible();
	await page.evaluate(
		() =>
			new Promise<void>((begun) => {
				// From the first idle moment on.
				requestIdleCallback(() => {
					const tasks: { at: number; ms: number }[] = [];
					Object.assign(window, { tasks });
					new PerformanceObserver((list) => {
						for (const { startTime, duration } of list.getEntries()) tasks.push({ at: startTime, ms: duration });
					}).observe({ type: "longtask" });
					begun();
				});
			}),
	);
	await chooseScan(page, path);
	const tasks = await page.evaluate(async () => {
		const moment = (ms: number): Promise<void> => new Promise((then) => setTimeout(then, ms));
		// The bar stands as soon as the scan does; all of it is drawn within a second more.
		while (document.querySelector(".scale-bar") === null) await moment(100);
		await moment(1000);
		return (window as unknown as { tasks: { at: number; ms: number }[] }).tasks;
	});
	expect(tasks.filter(({ ms }) => ms > LONGEST_TASK_MS)).toEqual([]);
	// It is there to be touched before anything has been planned: on the ring, and not in its middle.
	await page.getByRole("button", { name: "Stand it on three places" }).click();
	await page.getByRole("button", { name: "top", exact: true }).click();
	await clickBanker(page, 0.5, 0.2);
	await expect(page.getByRole("button", { name: "Leave off (1 of 3)" })).toBeVisible();
	await clickBanker(page, 0.5, 0.5);
	await expect(page.getByRole("button", { name: "Leave off (1 of 3)" })).toBeVisible();
});
