import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { runCommandLine } from "../../electron/commandLine.ts";
import { scratchFolder } from "../support/places.ts";
import { readPdf } from "../support/readPdf.ts";

async function run(...argv: string[]): Promise<{ code: number; out: string; error: string }> {
	const said = { out: "", error: "" };
	const to = (end: "out" | "error") => ({
		write(text: string, done?: () => void) {
			said[end] += text;
			done?.();
		},
	});
	const code = await runCommandLine(argv, to("out"), to("error"));
	return { code, ...said };
}

describe("quote on the command line", () => {
	it("answers from height, stone and detail, and writes both papers", async () => {
		const out = join(scratchFolder(), "quote");
		const { code, out: said } = await run(
			"quote",
			"--height",
			"0.6 m",
			"--stone",
			"granite",
			"--detail",
			"fine",
			"--out",
			out,
			"--json",
		);
		expect(code).toBe(0);
		const found = JSON.parse(said);
		expect(found).toMatchObject({ kind: "quick", files: ["offer.pdf", "worksheet.pdf"] });
		expect(found.total[0]).toBeLessThan(found.total[1]);
		expect(found.total[1]).toBeLessThan(found.total[2]);
		expect(found.assumptions.every(({ from }: { from: string }) => from === "a guess")).toBe(true);
		expect(readdirSync(out).sort()).toEqual(["offer.pdf", "worksheet.pdf"]);
		const { pages } = await readPdf(new Uint8Array(readFileSync(join(out, "offer.pdf"))));
		expect(pages).toHaveLength(1);
		expect(pages[0].content).toContain("600 mm high, carved in granite");
	});

	it("is larger for a larger figure, and refuses what it cannot reckon with", async () => {
		const total = async (height: string): Promise<number> =>
			JSON.parse((await run("quote", "--height", height, "--json")).out).total[1];
		expect(await total("300")).toBeLessThan(await total("900"));
		for (const [argv, words] of [
			[["quote"], /needs a scan, or --height/],
			[["quote", "--height", "400", "--stone", "cheese"], /cheese/],
			[["quote", "--height", "400", "--detail", "rough"], /plain, usual, fine/],
		] as const) {
			const { code, error } = await run(...argv);
			expect(code).toBe(2);
			expect(error).toMatch(words);
		}
	});
});
