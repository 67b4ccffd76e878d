/** The log in the window: entries through the session, so that they are kept and can be undone in words. */

import { computed } from "@preact/signals";
import { benchSheet } from "../../core/bench/benchRows.ts";
import { goneUnder, underList } from "../../core/bench/left.ts";
import { mergeLogs } from "../../core/bench/log.ts";
import type { Commission, LogEntry } from "../../core/plan/commission.ts";
import { readReadings } from "../../core/plan/readDocument.ts";
import { Refusal } from "../../core/refusal.ts";
import { refusalText } from "../../core/text/refusals.ts";
import { type BenchWork, type NewEntry, signed } from "../bench/benchWork.ts";
import { call } from "../bridge.ts";
import { fartherOf, movedOf } from "./moved.ts";
import type { Session } from "./session.ts";

const entryWords = (entry: NewEntry): string => {
	switch (entry.kind) {
		case "done":
			return `point ${entry.point} done`;
		case "reading":
			return `reading at point ${entry.point}`;
		case "mark":
			return `reading of proof mark ${entry.mark}`;
		case "note":
			return entry.point === null ? "note" : `note at point ${entry.point}`;
		case "taken back":
			return "take an entry back";
	}
};

const withLog = (commission: Commission, log: LogEntry[]): Commission => ({ ...commission, log });

/** Adds an entry to the log; answers why not, or null. */
export const addEntry = (session: Session, entry: NewEntry): string | null =>
	session.stale.value && "point" in entry && entry.point !== null
		? "The plan is being worked out again, and numbers may change: wait a moment and enter it then."
		: session.change(entryWords(entry), (c) => withLog(c, [...c.log, signed(entry, "")]));

/** What the bench view works on when the window shows it; null without a plan. */
export function windowWork(session: Session): BenchWork | null {
	if (!session.plan.value) return null;
	return {
		sheet: computed(() =>
			benchSheet(session.plan.value as NonNullable<typeof session.plan.value>, fartherOf(movedOf(session).value)),
		),
		log: computed(() => session.commission.value?.log ?? []),
		add: (entry) => addEntry(session, entry),
		keepAwake: (on) => call("keepAwake", { on }),
	};
}

/** Takes in what a bench page gave back; answers in words what came of it. Throws Error with a sentence for a file that is none. */
export function takeReadings(session: Session, text: string, name: string): string {
	const commission = session.commission.value;
	if (!commission) throw new Error("Open the commission that the readings belong to first.");
	const readings = (() => {
		try {
			return readReadings(text, name);
		} catch (trouble) {
			throw trouble instanceof Refusal ? new Error(refusalText(trouble.issue)) : trouble;
		}
	})();
	const joined = mergeLogs(commission.log, readings.entries);
	const fresh = joined.length - commission.log.length;
	const plan = session.plan.value;
	const other =
		plan && readings.plan !== plan.code
			? ` They were made with plan ${readings.plan}, revision ${readings.revision}; this one is ${plan.code}, revision ${plan.sheet.revision}: look whether the numbers still mean the same points.`
			: "";
	if (fresh === 0) return `${name}: all ${readings.entries.length} entries were known already.${other}`;
	const refused = session.change(`take in ${fresh} entries from ${name}`, (c) => withLog(c, joined));
	if (refused !== null) throw new Error(refused);
	const known = new Set(goneUnder(commission.log).map(({ number }) => number));
	const under = goneUnder(joined).filter(({ number }) => !known.has(number));
	const alarm =
		under.length > 0
			? ` ${under.length} gone under the finished face: point ${underList(under, commission.sheet.units)}.`
			: "";
	return `${name}: ${fresh} new ${fresh === 1 ? "entry" : "entries"} taken in.${alarm}${other}`;
}
