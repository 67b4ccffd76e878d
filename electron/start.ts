/**
 * `npm start [-- FILE]`: the planner on what was worked on lately (the owl, where that is nothing yet), or on the scan or
 * commission given. In the desktop shell where its binary
 * can be had, else in a browser, else, with no display, as a plan on paper.
 */

import { spawn } from "node:child_process";
import { basename, dirname, join, resolve } from "node:path";
import { parseArgs } from "node:util";
import { readCommission } from "../core/plan/readDocument.ts";
import { Refusal } from "../core/refusal.ts";
import { refusalText } from "../core/text/refusals.ts";
import { build, PROJECT } from "./build.ts";
import { createCommissions } from "./files/commissions.ts";
import { nodeFiles } from "./files/fileLayer.ts";
import { createScanGrants } from "./files/scanGrants.ts";
import { userFolder } from "./files/userFolder.ts";
import { browserCommand, hasDisplay, openInBrowser } from "./findBrowser.ts";
import { fetchShell, installedShell } from "./findShell.ts";
import { openHost } from "./openHost.ts";
import { FIRST_DEMO, firstArgument, openingOf } from "./opening.ts";
import type { Opening } from "./services.ts";

const HELP = `npm start                 the planner: what you worked on lately to choose from; the owl, where that is nothing yet
npm start -- FILE         on a scan (.stl, .ply), a commission (.commission.json) or a demo (owl, leaf-face)
npm start -- --browser    in a browser even where the desktop shell could be had
npm start -- --address    only serve, and print the address to open, where there is no display`;

/** A shell that ends with an error sooner than that has not opened a window. */
const STILLBORN_MS = 5_000;

const TO_THE_WINDOW =
	'For the window, "npm start -- --address" serves it on this machine alone and prints the address for a browser.';

const say = (line: string): void => console.log(line);

/** Runs the shell until its window is closed. Returns whether it came up at all. */
async function runShell(binary: string, argument: string | undefined): Promise<boolean> {
	const began = Date.now();
	const child = spawn(binary, argument === undefined ? [PROJECT] : [PROJECT, argument], { stdio: "inherit" });
	const code = await new Promise<number>((done) => {
		child.once("error", () => done(1));
		child.once("exit", (exit) => done(exit ?? 1));
	});
	return code === 0 || Date.now() - began > STILLBORN_MS;
}

async function serve(argument: string | undefined, open: boolean): Promise<void> {
	const host = await openHost({ argument });
	if (open && (await openInBrowser(host.url))) say(`Puntello is open in your browser (once: ${host.url}).`);
	else say(`Open this address in a browser; it works once: ${host.url}`);
	say("Ctrl-C here ends it; commissions are kept as you work.");
	await new Promise<void>((done) => process.once("SIGINT", done).once("SIGTERM", done));
	await host.close();
}

/** What can be had without a window: the plan, and where its sheet lies. */
async function planOnPaper(argument: string, opening: Opening): Promise<number> {
	say(`There is no display here, so no window can be opened. Planning on paper instead. ${TO_THE_WINDOW}`);
	const { runCommandLine } = await import("./commandLine.ts");
	const name = opening.kind === "demo" ? opening.name : basename(argument).replace(/\..*$/, "");
	const out = join("out", name);
	let verb = ["demo", name];
	if (opening.kind === "scan") verb = ["plan", argument, "--out", out];
	if (opening.kind === "commission") {
		const { scan } = readCommission(opening.text, basename(argument));
		verb = ["plan", join(dirname(argument), basename(scan.file)), "--commission", argument, "--out", out];
	}
	const code = await runCommandLine(verb);
	if (code === 0) say(`The sheet lies in ${join(out, "sheets.pdf")}. ${TO_THE_WINDOW}`);
	return code;
}

async function start(argv: readonly string[]): Promise<number> {
	const { values, positionals } = parseArgs({
		args: [...argv],
		allowPositionals: true,
		options: { browser: { type: "boolean" }, address: { type: "boolean" }, help: { type: "boolean", short: "h" } },
	});
	if (values.help) {
		say(HELP);
		return 0;
	}
	const onPaper = !values.address && !hasDisplay();
	const argument =
		positionals[0] ?? (onPaper ? FIRST_DEMO : await firstArgument(createCommissions(nodeFiles, userFolder())));
	// Said here, in the terminal, before a window is made for it.
	const opening = await openingOf(argument, nodeFiles, createScanGrants(nodeFiles));
	if (onPaper && argument !== undefined) return planOnPaper(argument, opening);
	await build(say);
	// Its own sandbox forbids the shell to run as root on Linux, and it is not to run without.
	const asRoot = process.platform === "linux" && process.getuid?.() === 0;
	if (!values.browser && !values.address && !asRoot) {
		const binary = installedShell() ?? (await fetchShell(say));
		const whole = opening.kind === "demo" || argument === undefined ? argument : resolve(argument);
		if (binary !== null && (await runShell(binary, whole))) return 0;
		say("The desktop shell cannot be had here; opening the same window in a browser.");
	}
	await serve(argument, !values.address && browserCommand("") !== null);
	return 0;
}

try {
	process.exitCode = await start(process.argv.slice(2));
} catch (error) {
	if (error instanceof Refusal) console.error(refusalText(error.issue));
	else if (error instanceof TypeError && "code" in error) console.error(`${error.message}\n${HELP}`);
	else throw error;
	process.exitCode = 2;
}
