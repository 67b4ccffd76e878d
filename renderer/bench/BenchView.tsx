/** One point at a time, in type that reads from two metres, worked with a wet glove. */

import { useSignal } from "@preact/signals";
import { type ComponentChildren, Fragment } from "preact";
import { useEffect, useRef } from "preact/hooks";
import type { BenchRow } from "../../core/bench/benchRows.ts";
import { countedEntries, standings } from "../../core/bench/log.ts";
import { readingWords } from "../../core/text/benchWords.ts";
import { PointMark } from "../book/PointMark.tsx";
import type { BenchWork } from "./benchWork.ts";
import { FaceSketch } from "./FaceSketch.tsx";
import { Keypad } from "./Keypad.tsx";
import { MarksPad } from "./MarksPad.tsx";
import { ReadingPad } from "./ReadingPad.tsx";
import { useAwake } from "./useAwake.ts";
import "./bench.css";

interface BenchProps {
	readonly work: BenchWork;
	/** Number of the point to begin with; without it the first that is not done. */
	readonly from?: number | null;
	/** What stands in the head beside the name: how to leave, how to give the readings back. */
	readonly children?: ComponentChildren;
	onShow?(number: number): void;
}

type Asked = "nothing" | "reading" | "number" | "marks";

export function BenchView({ work, from = null, children, onShow }: BenchProps) {
	const { name, plan, revision, rows, units, mirrored, marks } = work.sheet.value;
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
	const asked = useSignal<Asked>("nothing");
	const typed = useSignal("");
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
	useEffect(() => {
		const keys = (event: KeyboardEvent): void => {
			if (asked.value !== "nothing" || event.ctrlKey || event.metaKey || event.altKey) return;
			if (event.target instanceof HTMLInputElement) return;
			if (event.key === "ArrowRight") go(i + 1);
			else if (event.key === "ArrowLeft") go(i - 1);
			else return;
			event.preventDefault();
		};
		window.addEventListener("keydown", keys);
		return () => window.removeEventListener("keydown", keys);
	});
	if (!row) return <p class="bench bench-empty">There is no point to drill in this plan.</p>;
	const go = (to: number): void => {
		at.value = Math.max(0, Math.min(to, rows.length - 1));
		trouble.value = null;
	};
	const keep = (entry: Parameters<BenchWork["add"]>[0]): boolean => {
		trouble.value = work.add(entry);
		return trouble.value === null;
	};
	const standing = known.get(row.number);
	const face = work.sheet.value.faces.find(({ name: one }) => one === row.entry?.face);
	const done = isDone(row);
	const finish = (): void => {
		const seconds = Math.round((Date.now() - shownSince.value) / 1000);
		if (keep({ kind: "done", point: row.number, seconds })) go(firstOpen(i + 1));
	};
	const takeBack = (): void => {
		const last = countedEntries(work.log.value).findLast((entry) => "point" in entry && entry.point === row.number);
		if (last) keep({ kind: "taken back", of: last.id });
	};
	const count = rows.filter(isDone).length;
	return (
		<main class="bench" aria-label="bench view" ref={view} tabIndex={-1}>
			<header class="bench-head">
				<p>
					<strong>{name}</strong> plan {plan}, revision {revision}
					{mirrored && <strong class="bench-mirrored"> MIRRORED</strong>}
				</p>
				<p class="bench-count" role="status">
					{count} of {rows.length} done
				</p>
				<nav>
					<button
						type="button"
						onClick={() => {
							typed.value = "";
							asked.value = "number";
						}}
					>
						go to …
					</button>
					{marks.length > 0 && (
						<button
							type="button"
							onClick={() => {
								asked.value = "marks";
							}}
						>
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
					onLeave={() => {
						asked.value = "nothing";
					}}
					onTake={(over_mm) => {
						if (keep({ kind: "reading", point: row.number, over_mm })) asked.value = "nothing";
					}}
				/>
			) : asked.value === "marks" ? (
				<MarksPad
					marks={marks}
					units={units}
					onTake={(entry) => keep(entry)}
					onLeave={() => {
						asked.value = "nothing";
					}}
				/>
			) : asked.value === "number" ? (
				<Keypad
					label="Number of the point"
					unit=""
					text={typed.value}
					mayBeNegative={false}
					takeWords="show it"
					ready={rows.some((one) => String(one.number) === typed.value)}
					onText={(text) => {
						typed.value = text.replace(/\D/g, "");
					}}
					onLeave={() => {
						asked.value = "nothing";
					}}
					onTake={() => {
						go(rows.findIndex((one) => String(one.number) === typed.value));
						asked.value = "nothing";
					}}
				/>
			) : (
				<>
					<section class="bench-point" aria-label={`point ${row.number}`}>
						<div class="bench-number">
							<h1>{row.number}</h1>
							<p>
								<PointMark round={row.round} side={row.side} /> {row.roundName}
								<br />
								proper {row.side === "middle" ? "middle" : row.side}
								{row.lie !== "" && (
									<>
										<br />
										stone {row.lie}
									</>
								)}
								{row.notes.map((note) => (
									<Fragment key={note}>
										<br />
										<strong>{note}</strong>
									</Fragment>
								))}
							</p>
							{face && row.entry && <FaceSketch face={face} u={row.entry.u} v={row.entry.v} />}
						</div>
						<dl class={done ? "bench-figures of-done" : "bench-figures"}>
							{row.figures.map((figure) => (
								<div key={figure.name} class={figure.main ? "main" : ""}>
									<dt>{figure.name}</dt>
									<dd>{figure.value}</dd>
								</div>
							))}
						</dl>
						<p class="bench-said" role="status">
							{done && `Done ${standing?.doneAt?.slice(0, 16).replace("T", ", ")}. `}
							{standing?.over !== undefined &&
								standing.over !== null &&
								`Read: ${readingWords(standing.over, row.stop_mm, units)}`}
						</p>
						{standing?.notes.map((note) => (
							<p class="bench-said" key={note}>
								{note}
							</p>
						))}
						{trouble.value !== null && (
							<p class="bench-trouble" role="alert">
								{trouble.value}
							</p>
						)}
					</section>
					<div class="bench-acts">
						<button type="button" onClick={() => go(i - 1)} disabled={i === 0}>
							back
						</button>
						<button
							type="button"
							onClick={() => {
								asked.value = "reading";
							}}
						>
							reads …
						</button>
						{standing && (
							<button type="button" onClick={takeBack}>
								take back
							</button>
						)}
						<button type="button" class="main" onClick={finish} disabled={done}>
							done
						</button>
						<button type="button" onClick={() => go(i + 1)} disabled={i === rows.length - 1}>
							next
						</button>
					</div>
				</>
			)}
		</main>
	);
}
