import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

/** The import rule and the rule on exact arithmetic, walked over every file as the third check beside lint and compiler. */

const root = resolve(dirname(fileURLToPath(import.meta.url)), "..");
const files = execFileSync("git", ["ls-files", "--cached", "--others", "--exclude-standard", "--", "*.ts", "*.tsx"], {
	cwd: root,
	encoding: "utf8",
})
	.split("\n")
	.filter((file) => file !== "");

/** Comments and strings blanked out, so that words in them are not taken for code. */
const bare = (source: string): string =>
	source.replace(/\/\*[\s\S]*?\*\/|\/\/[^\n]*|"(?:[^"\\\n]|\\.)*"|'(?:[^'\\\n]|\\.)*'/g, (text) =>
		" ".repeat(text.length),
	);

const importsOf = (file: string): string[] =>
	[
		...readFileSync(join(root, file), "utf8").matchAll(
			/(?:^|\n)\s*(?:import|export)\b[^;"']*?from\s*"([^"]+)"|import\(\s*"([^"]+)"\s*\)|(?:^|\n)\s*import\s*"([^"]+)"/g,
		),
	].map((m) => m[1] ?? m[2] ?? m[3]);

/** Packages that a folder of core may use. */
const CORE_PACKAGES: readonly [string, RegExp][] = [
	["core/surface/", /^three(-mesh-bvh)?$/],
	["core/plan/", /^zod$/],
	["core/sheet/", /^jspdf$/],
	["core/scan/", /^@noble\/hashes\//],
];

const allowed = (file: string, name: string): boolean => {
	const target = name.startsWith(".") ? relative(root, resolve(root, dirname(file), name.replace(/\?.*$/, ""))) : null;
	if (file.startsWith("tests/") || !file.includes("/")) return true;
	if (file.startsWith("core/"))
		return target === null
			? CORE_PACKAGES.some(([folder, pattern]) => file.startsWith(folder) && pattern.test(name))
			: target.startsWith("core/");
	if (file.startsWith("seeds/")) return target !== null && (target.startsWith("core/") || target.startsWith("seeds/"));
	if (file.startsWith("electron/bridge/contract"))
		return target === null ? name === "zod" : target.startsWith("core/") || target.startsWith("electron/bridge/");
	if (file.startsWith("electron/"))
		return (
			target === null ||
			["core/", "seeds/", "electron/"].some((folder) => target.startsWith(folder)) ||
			target === "package.json"
		);
	if (file.startsWith("renderer/"))
		return target === null
			? /^(three|three\/.*|three-mesh-bvh|meshoptimizer\/simplifier|preact|preact\/.*|@preact\/signals|dejavu-fonts-ttf\/.*)$/.test(
					name,
				)
			: ["core/", "seeds/", "renderer/"].some((folder) => target.startsWith(folder)) ||
					target === "electron/bridge/contract.ts";
	return false;
};

describe("architecture", () => {
	it("has files to look at", () => {
		expect(files.length).toBeGreaterThan(20);
	});

	it("keeps the import rule", () => {
		const breaches = files.flatMap((file) =>
			importsOf(file)
				.filter((name) => !allowed(file, name))
				.map((name) => `${file} imports ${name}`),
		);
		expect(breaches).toEqual([]);
	});

	it("decides by exactly rounded arithmetic alone", () => {
		const inexact =
			/Math\s*\.\s*(?:sinh?|cosh?|tanh?|asinh?|acosh?|atanh?|atan2|exp|expm1|log|log2|log10|log1p|pow|hypot|cbrt|random)\b|\*\*|\bDate\b|Math\s*\[/;
		const breaches = files
			.filter((file) => /^(core|seeds)\//.test(file) && file !== "core/text/angle.ts")
			.flatMap((file) =>
				bare(readFileSync(join(root, file), "utf8"))
					.split("\n")
					.flatMap((line, i) => (inexact.test(line) ? [`${file}:${i + 1} ${line.trim()}`] : [])),
			);
		expect(breaches).toEqual([]);
	});

	it("lets only the stages listed use a package inside core", () => {
		expect(allowed("core/drilling/line.ts", "three")).toBe(false);
		expect(allowed("core/surface/surfaceIndex.ts", "three")).toBe(true);
		expect(allowed("renderer/app.ts", "../electron/main.ts")).toBe(false);
		expect(allowed("core/plan/planner.ts", "../../renderer/app.ts")).toBe(false);
	});
});
