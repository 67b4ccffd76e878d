/**
 * The bench page: one self-contained file for a tablet with no network. It carries the rows of a plan, keeps what is entered
 * on the tablet itself, and gives it back as a file that the planner reads and joins to its log.
 */

import { signal } from "@preact/signals";
import { render } from "preact";
import type { BenchSheet } from "../../core/bench/benchRows.ts";
import { mergeLogs } from "../../core/bench/log.ts";
import type { LogEntry } from "../../core/plan/commission.ts";
import type { Readings } from "../../core/plan/readings.ts";
import { BenchView } from "./BenchView.tsx";
import { type BenchWork, signed } from "./benchWork.ts";
import { BENCH_DATA_ID, type BenchPageData } from "./writeBenchPage.ts";
import "../style/colours.css";
import "./benchPage.css";

const { sheet, log: known } = JSON.parse(document.getElementById(BENCH_DATA_ID)?.textContent ?? "") as BenchPageData;
/** Of this plan and revision alone: entries of two plans are never mixed. */
const KEY = `puntello bench ${sheet.plan} ${sheet.revision}`;

/** What the tablet kept, or nothing where its browser refuses to keep anything. */
function kept(): readonly LogEntry[] {
	try {
		return JSON.parse(localStorage.getItem(KEY) ?? "[]") as LogEntry[];
	} catch {
		return [];
	}
}

const made = signal<readonly LogEntry[]>(kept());
const log = signal<readonly LogEntry[]>(mergeLogs(known, made.value));
const givenBack = signal(made.value.length === 0);
const keepsNothing = signal(false);
/** What came of giving back. */
const told = signal("");

const work: BenchWork = {
	sheet: signal<BenchSheet>(sheet),
	log,
	add(entry) {
		made.value = [...made.value, signed(entry, "")];
		log.value = mergeLogs(known, made.value);
		givenBack.value = false;
		try {
			localStorage.setItem(KEY, JSON.stringify(made.value));
			keepsNothing.value = false;
		} catch {
			keepsNothing.value = true;
		}
		return null;
	},
};

/** Every entry made on this tablet, each time: the planner knows those it has by their ids. */
function giveBack(): void {
	const readings: Readings = {
		format: "puntello-readings",
		version: 1,
		name: sheet.name,
		plan: sheet.plan,
		revision: sheet.revision,
		entries: [...made.value],
	};
	const address = URL.createObjectURL(
		new Blob([`${JSON.stringify(readings, null, "\t")}\n`], { type: "application/json" }),
	);
	const link = document.createElement("a");
	link.href = address;
	link.download = `${sheet.plan}-${sheet.revision}.readings.json`;
	link.click();
	setTimeout(() => URL.revokeObjectURL(address), 60_000);
	givenBack.value = true;
	told.value = `Saved ${link.download}: bring it to the planner and take it in on its page 4.`;
}

window.addEventListener("beforeunload", (event) => {
	if (keepsNothing.value && !givenBack.value) event.preventDefault();
});

function Page() {
	return (
		<BenchView work={work}>
			{keepsNothing.value && (
				<strong class="bench-trouble" role="alert">
					This browser keeps nothing: give the readings back before you close it.
				</strong>
			)}
			{told.value !== "" && <span role="status">{told.value}</span>}
			<button type="button" onClick={giveBack} disabled={made.value.length === 0}>
				give back{made.value.length > 0 && !givenBack.value ? ` (${made.value.length})` : ""}
			</button>
		</BenchView>
	);
}

render(<Page />, document.getElementById("bench") as HTMLElement);
