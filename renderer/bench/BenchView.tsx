/** One point at a time, in type that reads from two metres, worked with a wet glove. */

import { useSignal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import type { BenchRow } from "../../core/bench/benchRows.ts";
import { isUnder } from "../../core/bench/left.ts";
import { countedEntries, standings } from "../../core/bench/log.ts";
import type { BenchWork, NewEntry } from "./benchWork.ts";
import { Keypad } from "./Keypad.tsx";
import { MarksPad } from "./MarksPad.tsx";
import { PointShown } from "./PointShown.tsx";
import { ReadingPad } from "./ReadingPad.tsx";
import { useAwake } from "./useAwake.ts";
import { useKeys } from "./useKeys.ts";
import "./bench.css";

interface BenchProps {
	readonly work: BenchWork;
	/** Number of the point to begin with; without it the first that is not done. */
	readonly from?: number | null;
	/** Begins with the proof marks. */
	readonly readsMarks?: boolean;
	/** What stands in the head beside the name: how to leave, how to give the readings back. */
	readonly children?: ComponentChildren;
	onShow?(number: number): void;
}

type Asked = "nothing" | "reading" | "number" | "marks";

export function BenchView({ work, from = null, readsMarks = false, children, onShow }: BenchProps) {
	const sheet = work.sheet.value;
	const { name, plan, revision, rows, units, mirrored, marks } = sheet;
	const known = standings(work.log.value);
	const isDone = (row: BenchRow): boolean => known.get(row.number)?.done ?? false;
	const firstOpen = (after: number): number => {
		for (let k = 0; k < rows.length; k++) {
			const i = (after + k) % rows.length;
			if (!isDone(rows[i])) return i;
		}
		return Math.min(after, rows.length - 1);
	};
	const begin = from === null ? -1 : rows.findIndex((row) => row.number === from);
	const at = useSignal(begin >= 0 ? begin : firstOpen(0));
	const shownSince = useSignal(Date.now());
	const asked = useSignal<Asked>(readsMarks && marks.length > 0 ? "marks" : "nothing");
	const trouble = useSignal<string | null>(null);
	useAwake(work.keepAwake);
	const view = useRef<HTMLElement>(null);
	// The button that was pressed goes with what it stood on; the keyboard goes on from the view.
	useEffect(() => view.current?.focus(), [asked.value]);
	const i = Math.max(0, Math.min(at.value, rows.length - 1));
	const row: BenchRow | undefined = rows[i];
	useEffect(() => {
		shownSince.value = Date.now();
		if (row) onShow?.(row.number);
	}, [row?.number]);
	const go = (to: number): void => {
		at.value = Math.max(0, Math.min(to, rows.length - 1));
		trouble.value = null;
	};
	useKeys((event) => {
		if (asked.value !== "nothing" || event.target instanceof HTMLInputElement) return false;
		if (event.key === "ArrowRight") go(i + 1);
		else if (event.key === "ArrowLeft") go(i - 1);
		else return false;
		return true;
	});
	if (!row) return <p class="bench bench-empty">There is no point to drill in this plan.</p>;
	const ask = (what: Asked) => (): void => {
		asked.value = what;
	};
	const leave = ask("nothing");
	const keep = (entry: NewEntry): boolean => {
		trouble.value = work.add(entry);
		return trouble.value === null;
	};
	const standing = known.get(row.number);
	const under = standing !== undefined && standing.over !== null && isUnder(standing.over);
	const finish = (): void => {
		const seconds = Math.round((Date.now() - shownSince.value) / 1000);
		if (keep({ kind: "done", point: row.number, seconds })) go(firstOpen(i + 1));
	};
	const takeBack = (): void => {
		const last = countedEntries(work.log.value).findLast((entry) => "point" in entry && entry.point === row.number);
		if (last) keep({ kind: "taken back", of: last.id });
	};
	return (
		<main class="bench" aria-label="bench view" ref={view} tabIndex={-1}>
			<header class="bench-head">
				<p>
					<strong>{name}</strong> plan {plan}, revision {revision}
					{mirrored && <strong class="bench-mirrored"> MIRRORED</strong>}
				</p>
				<p class="bench-count" role="status">
					{rows.filter(isDone).length} of {rows.length} done
				</p>
				<nav>
					<button type="button" onClick={ask("number")}>
						go to …
					</button>
					{marks.length > 0 && (
						<button type="button" onClick={ask("marks")}>
							proof marks
						</button>
					)}
					{children}
				</nav>
			</header>
			{asked.value === "reading" ? (
				<ReadingPad
					row={row}
					units={units}
					onLeave={leave}
					onTake={(over_mm) => {
						if (keep({ kind: "reading", point: row.number, over_mm })) leave();
					}}
				/>
			) : asked.value === "marks" ? (
				<MarksPad marks={marks} units={units} onTake={keep} onLeave={leave} />
			) : asked.value === "number" ? (
				<NumberPad
					rows={rows}
					onLeave={leave}
					onTake={(to) => {
						go(to);
						leave();
					}}
				/>
			) : (
				<>
					<PointShown row={row} sheet={sheet} standing={standing} trouble={trouble.value} />
					<div class="bench-acts">
						<button type="button" onClick={() => go(i - 1)} disabled={i === 0}>
							back
						</button>
						<button type="button" onClick={ask("reading")}>
							reads …
						</button>
						{standing && (
							<button type="button" onClick={takeBack}>
								take back
							</button>
						)}
						<button type="button" class={under ? "" : "main"} onClick={finish} disabled={isDone(row)}>
							done
						</button>
						<button
							type="button"
							class={under ? "main" : ""}
							onClick={() => go(i + 1)}
							disabled={i === rows.length - 1}
						>
							next
						</button>
					</div>
				</>
			)}
		</main>
	);
}

interface NumberProps {
	readonly rows: readonly BenchRow[];
	/** Index of the row. */
	onTake(to: number): void;
	onLeave(): void;
}

function NumberPad({ rows, onTake, onLeave }: NumberProps) {
	const typed = useSignal("");
	const to = rows.findIndex((row) => String(row.number) === typed.value);
	return (
		<Keypad
			label="Number of the point"
			unit=""
			text={typed.value}
			mayBeNegative={false}
			takeWords="show it"
			ready={to >= 0}
			onText={(text) => {
				typed.value = text.replace(/\D/g, "");
			}}
			onLeave={onLeave}
			onTake={() => onTake(to)}
		/>
	);
}
