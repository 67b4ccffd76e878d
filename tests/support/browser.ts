/**
 * The browser that the end-to-end tests drive: one that is installed, else one that is installed now. Run as a program it
 * makes sure that there is one and says which.
 */

import { spawnSync } from "node:child_process";
import { existsSync, realpathSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { chromium } from "@playwright/test";
import { findChromium, onPath } from "../../electron/findBrowser.ts";

/** Path of the browser to drive, or null. */
export function testBrowser(): string | null {
	const named = process.env.PUNTELLO_BROWSER;
	if (named) return named;
	const own = chromium.executablePath();
	return findChromium() ?? (existsSync(own) ? own : null);
}

const run = (command: string, args: readonly string[]): boolean =>
	spawnSync(command, args, {
		stdio: ["ignore", "inherit", "inherit"],
		env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" },
	}).status === 0;

function install(): void {
	const root = process.getuid?.() === 0;
	if (root && onPath("apt-get")) {
		console.log("No Chromium here; installing the one of the distribution.");
		// A list of packages that could not be renewed may still know where Chromium is.
		run("apt-get", ["update", "-q"]);
		if (run("apt-get", ["install", "-y", "-q", "--no-install-recommends", "chromium"]) && testBrowser()) return;
	}
	console.log("No Chromium here; fetching one for the tests.");
	run("npx", ["--no-install", "playwright", "install", "chromium"]);
}

if (process.argv[1] && realpathSync(process.argv[1]) === fileURLToPath(import.meta.url)) {
	if (testBrowser() === null) install();
	const browser = testBrowser();
	if (browser === null) {
		console.error("The end-to-end tests need Chromium: install it, or name one in PUNTELLO_BROWSER.");
		process.exitCode = 1;
	} else console.log(`End-to-end tests in ${browser}`);
}
