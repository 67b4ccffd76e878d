import { availableParallelism } from "node:os";
import { defineConfig } from "@playwright/test";
import { testBrowser } from "./tests/support/browser.ts";
import { proving } from "./tests/support/prove.ts";

// Chromium's own sandbox forbids it to run as root, as it does in containers.
const asRoot = process.getuid?.() === 0;

/** Whole jobs, of minutes each: begun first, so that none is left to one worker at the end. */
const LONG = /(owl|walk|sameBytes)\.spec\.ts$/;

export default defineConfig({
	testDir: "tests/e2e",
	projects: [
		{ name: "whole jobs", testMatch: LONG },
		{ name: "parts", testMatch: "*.spec.ts", testIgnore: LONG },
	],
	globalSetup: "./tests/support/buildWindow.ts",
	outputDir: "test-results",
	// Every test has a host, a home and a page of its own. Times by the clock are asked when proving, of a machine at rest.
	fullyParallel: true,
	workers: proving ? 1 : Math.min(4, availableParallelism()),
	forbidOnly: true,
	timeout: 180_000,
	expect: { timeout: 60_000 },
	reporter: [["list"]],
	use: {
		viewport: { width: 1280, height: 800 },
		launchOptions: {
			executablePath: testBrowser() ?? undefined,
			args: [...(asRoot ? ["--no-sandbox"] : []), "--use-angle=swiftshader", "--enable-unsafe-swiftshader"],
		},
		screenshot: "only-on-failure",
		// Pictures of every frame slow every test.
		trace: { mode: "retain-on-failure", screenshots: false },
	},
});
