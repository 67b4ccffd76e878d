import { defineConfig } from "vitest/config";

export default defineConfig({
	test: {
		include: ["tests/**/*.test.ts"],
		exclude: ["tests/e2e/**", "node_modules/**"],
		testTimeout: 120_000,
		pool: "forks",
		// One process takes file after file, so that the planner is loaded and warmed up once, not once a file. What a test
		// puts in the place of a module it takes away again (vi.resetModules).
		isolate: false,
		// Meshes fill the space for young objects; a larger one is swept less often.
		execArgv: ["--max-semi-space-size=64"],
		// Every core: the library leaves one idle, which on two is half of them.
		maxWorkers: "100%",
	},
});
