import { defineConfig } from "vitest/config";

export default defineConfig({
	test: {
		include: ["tests/**/*.test.ts"],
		exclude: ["tests/e2e/**", "node_modules/**"],
		testTimeout: 120_000,
		pool: "threads",
		// Every core: the library leaves one idle, which on two is half of them.
		maxWorkers: "100%",
	},
});
