/**
 * The real window for end-to-end tests: the built renderer, served by the real loopback host over a folder of its own, in
 * a real browser. A test fails when its page threw, or ran into its own content security policy.
 */

import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test as base, expect, type Page } from "@playwright/test";
import type { Host } from "../../electron/host.ts";
import { openHost } from "../../electron/openHost.ts";

interface WindowFixtures {
	/** Where this test's commissions are kept; empty at first. */
	readonly home: string;
	/** Opens the window on a scan, a commission or a demo, or on the first screen. */
	readonly openWindow: (argument?: string) => Promise<Page>;
}

export const test = base.extend<WindowFixtures>({
	// biome-ignore lint/correctness/noEmptyPattern: the runner tells fixtures by this form of their first argument.
	home: async ({}, use) => {
		const home = mkdtempSync(join(tmpdir(), "puntello-"));
		await use(home);
		rmSync(home, { recursive: true, force: true });
	},
	openWindow: async ({ page, home }, use) => {
		const troubles: string[] = [];
		const hosts: Host[] = [];
		page.on("pageerror", (error) => troubles.push(String(error)));
		page.on("console", (message) => {
			if (/content security policy/i.test(message.text())) troubles.push(message.text());
		});
		await use(async (argument) => {
			const host = await openHost({ argument, home });
			hosts.push(host);
			await page.goto(host.url);
			return page;
		});
		await Promise.all(hosts.map((host) => host.close()));
		expect(troubles, "what the page threw, or was forbidden").toEqual([]);
	},
});
export { expect };
