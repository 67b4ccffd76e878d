/** One point in large type: its number and mark, where it stands, its figures, and what the log says of it. */

import { Fragment } from "preact";
import { type BenchRow, type BenchSheet, figuresNow } from "../../core/bench/benchRows.ts";
import { isUnder } from "../../core/bench/left.ts";
import type { PointStanding } from "../../core/bench/log.ts";
import { readingWords, UNDER_ORDERS } from "../../core/text/benchWords.ts";
import { PointMark } from "../book/PointMark.tsx";
import { FaceSketch } from "./FaceSketch.tsx";

interface PointProps {
	readonly row: BenchRow;
	readonly sheet: BenchSheet;
	readonly standing: PointStanding | undefined;
	/** Why the last entry could not be kept. */
	readonly trouble: string | null;
}

export function PointShown({ row, sheet, standing, trouble }: PointProps) {
	const face = sheet.faces.find(({ name }) => name === row.entry?.face);
	const done = standing?.done ?? false;
	const over = standing?.over ?? null;
	const under = over !== null && isUnder(over);
	const figures = figuresNow(row, over, sheet.units, done);
	const alarm = figures.find((figure) => figure.alarm);
	return (
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
			{alarm && (
				<div class="bench-alarm" role="alert">
					<p>
						{alarm.name} <strong>{alarm.value}</strong>
					</p>
					{under && <p>{UNDER_ORDERS}</p>}
				</div>
			)}
			<dl class={done || under ? "bench-figures of-done" : "bench-figures"}>
				{figures
					.filter((figure) => figure !== alarm)
					.map((figure) => (
						<div key={figure.name} class={figure.main ? "main" : ""}>
							<dt>{figure.name}</dt>
							<dd>{figure.value}</dd>
						</div>
					))}
			</dl>
			<p class="bench-said" role="status">
				{done && `Done ${standing?.doneAt?.slice(0, 16).replace("T", ", ")}. `}
				{over !== null && !under && `Read: ${readingWords(over, row.stop_mm, sheet.units)}`}
			</p>
			{standing?.notes.map((note) => (
				<p class="bench-said" key={note}>
					{note}
				</p>
			))}
			{trouble !== null && (
				<p class="bench-trouble" role="alert">
					{trouble}
				</p>
			)}
		</section>
	);
}
