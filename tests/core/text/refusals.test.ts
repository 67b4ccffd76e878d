import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { dirname, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";
import { refusalText } from "../../../core/text/refusals.ts";

it("has a sentence for every code with which the program refuses an input", () => {
	const cwd = resolve(dirname(fileURLToPath(import.meta.url)), "../../..");
	const files = execFileSync("git", ["ls-files", "core", "electron", "renderer", "seeds"], { cwd, encoding: "utf8" })
		.split("\n")
		.filter((file) => /\.tsx?$/.test(file));
	const codes = files.flatMap((file) =>
		[...readFileSync(resolve(cwd, file), "utf8").matchAll(/new Refusal\(\s*"([^"]+)"/g)].map((match) => match[1]),
	);
	expect(codes.length).toBeGreaterThan(100);
	// Without a sentence the code itself is shown, with its facts.
	const facts = new Proxy({}, { get: (_, key) => (key === "toJSON" ? undefined : [String(key)]) });
	expect(codes.filter((code) => refusalText({ code, facts }).startsWith(`${code}: {`))).toEqual([]);
});
