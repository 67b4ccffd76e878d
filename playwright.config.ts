import { defineConfig } from "@playwright/test";
import { testBrowser } from "./tests/support/browser.ts";

// Chromium's own sandbox forbids it to run as root, as it does in containers.
const asRoot = process.getuid?.() === 0;

export default defineConfig({
	testDir: "tests/e2e",
	testMatch: "*.spec.ts",
	globalSetup: "./tests/support/buildWindow.ts",
	outputDir: "test-results",
	workers: 1,
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
		trace: "retain-on-failure",
	},
});
