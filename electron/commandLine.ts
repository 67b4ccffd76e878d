/**
 * The command line: `npm run --silent puntello -- VERB …`. Standard output carries the answer alone, standard error the
 * progress; exit 0 when done, 2 for an input that is refused, 1 for a defect of the program, 130 when stopped by Ctrl-C.
 */

import { realpathSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { Refusal } from "../core/refusal.ts";
import { refusalText } from "../core/text/refusals.ts";
import { createProgressLine } from "./progressLine.ts";
import { runJob, Stopped } from "./runJob.ts";
import { demo } from "./verbs/demo.ts";
import { fit } from "./verbs/fit.ts";
import { plan } from "./verbs/plan.ts";
import { points } from "./verbs/points.ts";
import { quote } from "./verbs/quote.ts";
import { survey } from "./verbs/survey.ts";
import type { Row, Shop, Verb } from "./verbs/verb.ts";

const HELP = `npm run --silent puntello -- VERB …

survey SCAN                       health and measures of a scan
fit SCAN (--block LxWxH | --offcut FILE | --yard FOLDER)
                                  whether it fits, how, with how much to spare, and the proof
     FILE: the stone's scan (.stl, .ply), or .json with its sides and breaks, tape readings or faces
     FOLDER: such files, or a list of sizes (.txt, .csv: "name, 400x300x200"); ranked by waste
     [--margin M] [--foot M] [--out-of-true M] [--stone KIND]
     [--upright | --tip DEGREES]  upright as plan keeps it, or tipped so far at most; else turned any way round
     [--tolerance T] [--time SECONDS]   how near the proof is to come, and when the best so far is enough
     [--stone-unit UNIT]          the unit of the stone's scan
points SCAN [--join J | --count N] [--block LxWxH | --offcut FILE] [--transfer T]
                                  points alone
plan SCAN --out DIR               plan.json, points.csv, sheets.pdf and map-*.svg
     [--block LxWxH | --offcut FILE] [--commission FILE] [--transfer machine|callipers|faces|straightedge]
     [--cuts N] [--stop-cuts N] [--saw "bridge saw"|"wire saw"|"hand disc"]
     [--turning "as stood"|upright|tipped|free]   how the figure may lie in the block; upright unless said
     [--up x|y|z]                 which axis of the scan is up; --up=-y for one that points down
     [--lengths mm|in|in16]       the unit of the sheets; in16: inches in sixteenths
     [--full-size]                also templates.pdf and maps-full-size.pdf: the stone's faces and the maps at 1:1
quote SCAN [--commission FILE] [--block LxWxH]
                                  hours and price, with every figure that they rest on
quote --height H [--stone KIND] [--detail plain|usual|fine]
                                  the same before any scan
     [--out DIR]                  writes offer.pdf and worksheet.pdf there
demo [NAME]                       a seed commission (owl, leaf-face) planned into out/NAME; both without a name

SCAN is STL or PLY. Every verb that takes one also takes
     --unit mm|cm|m|in|ft         the unit of the scan, where its size leaves a doubt
     --scale S                    stone divided by scan
     --mirror                     left for right
--json writes the answer as JSON. Lengths are mm unless they carry a unit.
`;

const VERBS: Readonly<Record<string, Verb>> = { survey, fit, points, plan, quote, demo };
const DEFECT = 1;
const REFUSED = 2;
const STOPPED = 130;

function table(rows: readonly Row[]): string {
	const width = Math.max(...rows.map(([label]) => label.length));
	return rows.map(([label, value]) => `${label.padEnd(width)}  ${value}\n`).join("");
}

interface Terminal {
	readonly isTTY?: boolean;
	write(text: string, done?: () => void): unknown;
}

/** Follows one command line and gives the exit code; nothing is thrown. */
export async function runCommandLine(
	argv: readonly string[],
	stdout: Terminal = process.stdout,
	stderr: Terminal = process.stderr,
): Promise<number> {
	const [name, ...rest] = argv;
	if (name === undefined || name === "--help" || name === "-h" || rest.includes("--help")) {
		(name === undefined ? stderr : stdout).write(HELP);
		return name === undefined ? REFUSED : 0;
	}
	const progress = createProgressLine(stderr);
	const stop = new AbortController();
	const onStop = (): void => stop.abort();
	// The second Ctrl-C finds no listener and ends the program where it stands.
	process.once("SIGINT", onStop);
	process.once("SIGTERM", onStop);
	const shop: Shop = {
		run: (job) => runJob(job, progress.show, stop.signal),
		report: progress.show,
		note(line) {
			progress.clear();
			stderr.write(`${line}\n`);
		},
		stop: stop.signal,
	};
	try {
		if (!Object.hasOwn(VERBS, name)) throw new Refusal("command.verb", { found: name, expected: Object.keys(VERBS) });
		const { json, rows } = await VERBS[name](rest, shop);
		progress.clear();
		const text = rest.includes("--json") ? `${JSON.stringify(json)}\n` : table(rows);
		// All of it, however slowly the other end reads.
		await new Promise<void>((resolve) => stdout.write(text, () => resolve()));
		return 0;
	} catch (error) {
		progress.clear();
		const [code, words] = verdict(error);
		stderr.write(`${words}\n`);
		return code;
	} finally {
		process.off("SIGINT", onStop);
		process.off("SIGTERM", onStop);
	}
}

/** Exit code and words for what ended a verb. */
function verdict(error: unknown): readonly [number, string] {
	if (error instanceof Stopped) return [STOPPED, "Stopped; no file is left half-written."];
	if (error instanceof Refusal) return [REFUSED, refusalText(error.issue)];
	const what = error instanceof Error ? (error.stack ?? error.message) : String(error);
	return [DEFECT, `A defect of the program, not of your input: ${what}`];
}

if (process.argv[1] && realpathSync(process.argv[1]) === fileURLToPath(import.meta.url)) {
	// An end that has gone away (a pager that was left) is its own affair.
	process.stdout.on("error", (error: NodeJS.ErrnoException) => {
		if (error.code !== "EPIPE") throw error;
	});
	process.exitCode = await runCommandLine(process.argv.slice(2));
}
