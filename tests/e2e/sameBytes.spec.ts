/** The same scan and commission give the same files to the byte, from Node and from a real browser. */

import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { seeds } from "../../seeds/index.ts";
import { expect, test } from "../support/window.ts";
import { turnTo, workedOut } from "./steps.ts";

const commandLine = fileURLToPath(new URL("../../electron/commandLine.ts", import.meta.url));
const digest = (bytes: Uint8Array): string => createHash("sha256").update(bytes).digest("hex");

for (const { name } of seeds)
	test(`${name}: plan, table and sheets are the same from the command line and from the window`, async ({
		openWindow,
		home,
	}) => {
		test.setTimeout(400_000);
		execFileSync(process.execPath, ["--import", import.meta.resolve("tsx"), commandLine, "demo", name], {
			cwd: home,
			stdio: ["ignore", "ignore", "ignore"],
		});
		const fromNode = (file: string): string => digest(readFileSync(join(home, "out", name, file)));

		const page = await openWindow(name);
		await workedOut(page);
		await turnTo(page, "bench");
		const fromWindow = async (button: string): Promise<string> => {
			const download = page.waitForEvent("download", { timeout: 240_000 });
			await page.getByRole("button", { name: button }).click();
			return digest(readFileSync(await (await download).path()));
		};
		expect(await fromWindow("Plan (JSON)"), "plan.json").toBe(fromNode("plan.json"));
		expect(await fromWindow("Table (CSV)"), "points.csv").toBe(fromNode("points.csv"));
		expect(await fromWindow("Save the PDF"), "sheets.pdf").toBe(fromNode("sheets.pdf"));
	});
