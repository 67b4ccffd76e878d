/**
 * Builds what the shell and the host serve: the renderer into dist/window, the shell's own two files into dist/shell. Does
 * nothing when nothing has changed since the last time.
 */

import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync, realpathSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { builtinModules } from "node:module";
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import type { InlineConfig } from "vite";

export const PROJECT = dirname(dirname(fileURLToPath(import.meta.url)));
export const WINDOW_FOLDER = join(PROJECT, "dist", "window");
const SHELL_FOLDER = join(PROJECT, "dist", "shell");

/** Everything that goes into the build, or decides how it is made. */
const SOURCES = ["core", "electron", "renderer", "seeds", "package.json", "package-lock.json", "tsconfig.base.json"];
const STAMP = join(PROJECT, "dist", "built-from");

function* filesBelow(path: string): Generator<string> {
	for (const entry of readdirSync(path, { withFileTypes: true }).sort((a, b) => (a.name < b.name ? -1 : 1))) {
		const inner = join(path, entry.name);
		if (entry.isDirectory()) yield* filesBelow(inner);
		else if (entry.isFile()) yield inner;
	}
}

/** One hash over the names and contents of all sources. */
function sourceHash(): string {
	const hash = createHash("sha256");
	for (const source of SOURCES) {
		const path = join(PROJECT, source);
		const files = source.includes(".") ? [path] : [...filesBelow(path)];
		for (const file of files) {
			const bytes = readFileSync(file);
			hash.update(`${relative(PROJECT, file)}\0${bytes.length}\0`).update(bytes);
		}
	}
	return hash.digest("hex");
}

function isBuilt(hash = sourceHash()): boolean {
	const whole = existsSync(join(WINDOW_FOLDER, "index.html")) && existsSync(join(SHELL_FOLDER, "main.js"));
	return whole && existsSync(STAMP) && readFileSync(STAMP, "utf8") === hash;
}

const common = (outDir: string): InlineConfig => ({
	configFile: false,
	envDir: false,
	logLevel: "warn",
	define: { "process.env.NODE_ENV": '"production"' },
	build: { outDir, emptyOutDir: true, reportCompressedSize: false, chunkSizeWarningLimit: 4000 },
});

/** The renderer: relative addresses, because the shell serves it under a scheme of its own, and workers as modules. */
function windowConfig(outDir: string): InlineConfig {
	const base = common(outDir);
	return {
		...base,
		root: join(PROJECT, "renderer"),
		base: "./",
		publicDir: false,
		oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
		worker: { format: "es" },
		build: {
			...base.build,
			target: "es2023",
			// The policy of the window allows no data: scripts or fonts, so nothing is inlined.
			assetsInlineLimit: 0,
			modulePreload: { polyfill: false },
			// Parts of the PDF library that draw web pages; the sheets never ask for them.
			rolldownOptions: { external: ["html2canvas", "dompurify", "canvg"], checks: { bundlerTimings: false } },
		},
	};
}

/** Script and style of the bench page, each one file, because the page carries them inside itself. */
function benchPageConfig(outDir: string): InlineConfig {
	const base = common(outDir);
	return {
		...base,
		root: join(PROJECT, "renderer"),
		publicDir: false,
		oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
		build: {
			...base.build,
			emptyOutDir: false,
			target: "es2022",
			lib: {
				entry: join(PROJECT, "renderer", "bench", "benchPage.tsx"),
				formats: ["iife"],
				name: "puntelloBench",
				fileName: () => "bench-page.js",
				cssFileName: "bench-page",
			},
			rolldownOptions: { checks: { bundlerTimings: false } },
		},
	};
}

/** One file of the shell with everything it imports, because an installed program has no packages beside it. */
function shellConfig(entry: "main" | "preload", outDir: string): InlineConfig {
	const base = common(outDir);
	// A sandboxed preload is loaded by a reader that knows CommonJS only.
	const preload = entry === "preload";
	return {
		...base,
		root: PROJECT,
		publicDir: false,
		ssr: { noExternal: true, target: "node" },
		build: {
			...base.build,
			emptyOutDir: false,
			ssr: true,
			target: "node22",
			minify: false,
			rolldownOptions: {
				input: join(PROJECT, "electron", "shell", `${entry}.ts`),
				checks: { bundlerTimings: false },
				external: ["electron", /^node:/, ...builtinModules],
				output: {
					format: preload ? "cjs" : "es",
					entryFileNames: preload ? "preload.cjs" : "main.js",
					codeSplitting: false,
				},
			},
		},
	};
}

/** Puts a finished folder in the place of the old one; whoever reads meanwhile finds one or the other. */
function swap(fresh: string, place: string): void {
	const old = `${fresh}-old`;
	if (existsSync(place)) renameSync(place, old);
	renameSync(fresh, place);
	rmSync(old, { recursive: true, force: true });
}

/** Builds where something has changed. Returns whether it had to. */
export async function build(report: (line: string) => void = () => {}): Promise<boolean> {
	const hash = sourceHash();
	if (isBuilt(hash)) return false;
	report("Building the window …");
	const vite = await import("vite");
	const scratch = join(PROJECT, "dist", `making-${process.pid}`);
	try {
		await vite.build(windowConfig(join(scratch, "window")));
		await vite.build(benchPageConfig(join(scratch, "window")));
		await vite.build(shellConfig("main", join(scratch, "shell")));
		await vite.build(shellConfig("preload", join(scratch, "shell")));
		swap(join(scratch, "window"), WINDOW_FOLDER);
		swap(join(scratch, "shell"), SHELL_FOLDER);
		writeFileSync(STAMP, hash);
	} finally {
		rmSync(scratch, { recursive: true, force: true });
	}
	return true;
}

if (process.argv[1] && realpathSync(process.argv[1]) === fileURLToPath(import.meta.url)) {
	const made = await build(console.log);
	console.log(made ? "Built into dist/." : "Nothing has changed since the last build.");
}
