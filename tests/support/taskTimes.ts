/**
 * How long each task of the window's thread took, from Chromium's own trace: by the wall clock, and in time of the
 * processor, which other programs on the same machine do not lengthen.
 */

import type { Page } from "@playwright/test";

export interface ThreadTask {
	/** The last mark that was set before it ended; "" before the first. */
	readonly after: string;
	/** When it began, on the trace's own clock; ms, as the durations. */
	readonly at: number;
	readonly wall: number;
	readonly cpu: number;
}

interface TraceEvent {
	readonly name: string;
	readonly cat?: string;
	readonly ph: string;
	readonly pid: number;
	readonly tid: number;
	/** Microseconds, as the durations. */
	readonly ts: number;
	readonly dur?: number;
	readonly tdur?: number;
	readonly args?: { readonly name?: string };
}

const MARK = "task times: ";
const CATEGORIES = "toplevel,blink.user_timing,__metadata";

/** A place in the recording that tasks are told by. */
export const markTime = (page: Page, name: string): Promise<void> =>
	page.evaluate((mark) => void performance.mark(mark), MARK + name);

/** Records until the returned function is called, which gives every task of a millisecond and more, in order. */
export async function recordTasks(page: Page): Promise<() => Promise<ThreadTask[]>> {
	const session = await page.context().newCDPSession(page);
	const events: TraceEvent[] = [];
	session.on("Tracing.dataCollected", ({ value }) => events.push(...(value as unknown as TraceEvent[])));
	await session.send("Tracing.start", {
		transferMode: "ReportEvents",
		traceConfig: {
			includedCategories: CATEGORIES.split(","),
			excludedCategories: ["*"],
			recordMode: "recordUntilFull",
		},
	});
	await markTime(page, "");
	return async () => {
		const ended = new Promise<void>((then) => session.once("Tracing.tracingComplete", () => then()));
		await session.send("Tracing.end");
		await ended;
		await session.detach();
		return tasksOf(events);
	};
}

function tasksOf(events: readonly TraceEvent[]): ThreadTask[] {
	const marks = events.filter(({ name, ph }) => name.startsWith(MARK) && ph !== "M").sort((a, b) => a.ts - b.ts);
	if (marks.length === 0) throw new Error("The trace does not hold its own first mark.");
	const [{ pid, tid, ts: began }] = marks;
	const tasks = events.filter(
		(one) => one.pid === pid && one.tid === tid && one.ph === "X" && one.name.endsWith("RunTask") && one.ts >= began,
	);
	const found: ThreadTask[] = [];
	let mark = 0;
	for (const { ts, dur = 0, tdur = 0 } of tasks.sort((a, b) => a.ts - b.ts)) {
		while (mark + 1 < marks.length && marks[mark + 1].ts < ts + dur) mark++;
		if (dur >= 1000)
			found.push({
				after: marks[mark].name.slice(MARK.length),
				at: ts / 1000,
				wall: dur / 1000,
				cpu: tdur / 1000,
			});
	}
	return found;
}

/** By mark, the longest by either clock. */
export function longestTasks(tasks: readonly ThreadTask[]): ReadonlyMap<string, { wall: number; cpu: number }> {
	const longest = new Map<string, { wall: number; cpu: number }>();
	for (const { after, wall, cpu } of tasks) {
		const so = longest.get(after) ?? { wall: 0, cpu: 0 };
		longest.set(after, { wall: Math.max(so.wall, wall), cpu: Math.max(so.cpu, cpu) });
	}
	return longest;
}
