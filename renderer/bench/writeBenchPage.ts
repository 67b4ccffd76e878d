/** Writes the bench page: script, style and data in one file, under a policy that lets it reach no network. */

import type { BenchSheet } from "../../core/bench/benchRows.ts";
import type { LogEntry } from "../../core/plan/commission.ts";

/** What the page carries: the rows, and what the log knew when it was written. */
export interface BenchPageData {
	readonly sheet: BenchSheet;
	readonly log: readonly LogEntry[];
}

export const BENCH_DATA_ID = "bench-data";

const POLICY =
	"default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src data: blob:; base-uri 'none'; form-action 'none'";

const escaped = (text: string): string =>
	text.replace(/[&<>"]/g, (c) => ({ "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" })[c] as string);

/** Nothing inside may end the element that carries it. */
const inScript = (code: string): string => code.replace(/<\/(script)/gi, "<\\/$1").replace(/<!--/g, "<\\!--");
const inStyle = (style: string): string => style.replace(/<\/(style)/gi, "<\\/$1");

export function benchPageText(data: BenchPageData, script: string, style: string): string {
	const json = JSON.stringify(data).replace(/</g, "\\u003c");
	return `<!doctype html>
<html lang="en" data-theme="paper">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${POLICY}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(data.sheet.name)}, bench page, plan ${escaped(data.sheet.plan)}</title>
<style>${inStyle(style)}</style>
</head>
<body>
<div id="bench"></div>
<script type="application/json" id="${BENCH_DATA_ID}">${json}</script>
<script>${inScript(script)}</script>
</body>
</html>
`;
}

/** Script and style as the build left them beside the window's own. */
export async function fetchBenchParts(): Promise<{ readonly script: string; readonly style: string }> {
	const [script, style] = await Promise.all(
		["bench-page.js", "bench-page.css"].map(async (file) => {
			const response = await fetch(file);
			if (!response.ok)
				throw new Error(`The bench page could not be made: ${file} is not there. Build Puntello again.`);
			return response.text();
		}),
	);
	return { script, style };
}
