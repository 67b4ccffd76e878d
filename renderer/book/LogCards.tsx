/** The work at the bench: view and page to work from, what is done and left, the entries one by one. */

import { useSignal } from "@preact/signals";
import { useRef } from "preact/hooks";
import { benchSheet } from "../../core/bench/benchRows.ts";
import { goneUnder, underList } from "../../core/bench/left.ts";
import { countedEntries } from "../../core/bench/log.ts";
import { paceOf, progressOf } from "../../core/bench/progress.ts";
import { strayHoles } from "../../core/bench/strayHoles.ts";
import type { LogEntry } from "../../core/plan/commission.ts";
import { daysText, readingWords } from "../../core/text/benchWords.ts";
import { finely, lengthText } from "../../core/text/format.ts";
import { benchTime } from "../bench/benchWork.ts";
import { benchPageText, fetchBenchParts } from "../bench/writeBenchPage.ts";
import { saveFile } from "../bridge.ts";
import { useSession } from "../state/context.ts";
import { addEntry, takeReadings } from "../state/log.ts";
import { fartherOf, movedOf } from "../state/moved.ts";
import { benchShown, pointed, setTrouble } from "../state/ui.ts";
import { Card, Figures } from "./Card.tsx";
import { fileName } from "./fileName.ts";
import { PointMark } from "./PointMark.tsx";
import { savedPaper } from "./papers.tsx";
import { News, useTold } from "./told.tsx";

/** Where the work is done: on this screen, or on a tablet that has no network. */
export function BenchCard() {
	const session = useSession();
	const plan = session.plan.value;
	const { told, tell } = useTold("bench");
	const input = useRef<HTMLInputElement>(null);
	const write = (): Promise<void> =>
		tell(async () => {
			if (!plan) return "";
			const { script, style } = await fetchBenchParts();
			const log = session.commission.value?.log ?? [];
			const text = benchPageText({ sheet: benchSheet(plan, fartherOf(movedOf(session).value)), log }, script, style);
			const name = fileName(plan.name, `-bench-${plan.code}.html`);
			const how = await saveFile(name, new TextEncoder().encode(text) as Uint8Array<ArrayBuffer>, "text/html");
			return how === "saved" ? `Saved ${name}: copy it to the tablet and open it there.` : "";
		});
	const take = (file: File): Promise<void> => tell(async () => takeReadings(session, await file.text(), file.name));
	return (
		<Card title="At the bench" place="bench">
			<p class="reason">
				One point at a time in large type. The bench page is the same as one file for a tablet without a network; what
				is entered there comes back as a file.
			</p>
			<div class="acts">
				<button
					type="button"
					class="act main"
					disabled={!plan}
					onClick={() => {
						benchShown.value = true;
					}}
				>
					Work at the bench
				</button>
				<button type="button" class="act" disabled={!plan || session.stale.value} onClick={() => void write()}>
					Save the bench page
				</button>
				<button type="button" class="act" onClick={() => input.current?.click()}>
					Take readings in
				</button>
				<input
					ref={input}
					class="unseen"
					type="file"
					accept=".json"
					tabIndex={-1}
					aria-hidden="true"
					data-opens="readings"
					onChange={(event) => {
						const file = event.currentTarget.files?.[0];
						if (file) void take(file);
						event.currentTarget.value = "";
					}}
				/>
			</div>
			<News words={told.value} />
		</Card>
	);
}

export function ProgressCard() {
	const session = useSession();
	const plan = session.plan.value;
	const unit = session.units.value;
	const log = session.commission.value?.log ?? [];
	const { told, tell } = useTold("left");
	if (!plan) return null;
	const stray = session.stale.value ? [] : strayHoles(plan, session.commission.value?.drilled ?? []);
	const { points, done, byRound, left, unknown } = progressOf(plan, log, stray);
	const pace = paceOf(log, left.length);
	const under = goneUnder(log);
	const saveLeft = (): Promise<void> =>
		tell(async () => {
			const day = benchTime(new Date()).slice(0, 10);
			const pdf = await session.drawLeft(day);
			return pdf ? savedPaper(fileName(plan.name, `-left-${day}.pdf`), pdf) : "";
		});
	return (
		<Card title="Done and left" place="left">
			{under.length > 0 && (
				<p class="trouble" role="alert">
					{under.length} gone under the finished face: point {underList(under, unit)}. Place the figure anew below, or
					make {under.length === 1 ? "the place" : "the places"} good.
				</p>
			)}
			<Figures
				rows={[
					["done", `${done} of ${points}`],
					["left", String(left.length)],
					[pace.usual ? "usual pace, a day" : `pace of ${pace.days.length} days, a day`, pace.perDay.toFixed(0)],
					["days left", daysText(pace.daysLeft)],
				]}
			/>
			<p class="reason">
				{pace.usual
					? "30 to 40 points a day (common practice, no source), until three days of your own are known."
					: "In brackets: where it ends four times in five when the days to come are like yours."}
			</p>
			<table class="list">
				<thead>
					<tr>
						<th scope="col" class="words">
							round
						</th>
						<th scope="col" class="words">
							proper
						</th>
						<th scope="col">done</th>
						<th scope="col">of</th>
					</tr>
				</thead>
				<tbody>
					{byRound.map((part) => (
						<tr key={`${part.round} ${part.side}`}>
							<td class="words">
								<PointMark round={part.round} side={part.side} /> {plan.rounds[part.round].name}
							</td>
							<td class="words">{part.side}</td>
							<td>{part.done}</td>
							<td>{part.points}</td>
						</tr>
					))}
				</tbody>
			</table>
			<div class="acts">
				<button
					type="button"
					class="act"
					disabled={left.length === 0 || session.stale.value}
					onClick={() => void saveLeft()}
				>
					Save sheets of what is left
				</button>
			</div>
			<News words={told.value} />
			{stray.length > 0 && (
				<p class="trouble" role="alert">
					Drilled, but not counted as done: {stray.join(", ")}. Where the figure lies now,{" "}
					{stray.length === 1 ? "its" : "their"} holes are others. Put the figure back (undo), or take the old holes for
					lost and drill the points as they stand now.
				</p>
			)}
			{unknown.length > 0 && (
				<p class="trouble">
					The log names {unknown.length === 1 ? "a point" : "points"} that this plan does not have: {unknown.join(", ")}
					. Were they made with another plan?
				</p>
			)}
		</Card>
	);
}

/** Entries shown at once; the rest by asking. */
const SHOWN = 12;

export function LogCard() {
	const session = useSession();
	const log = session.commission.value?.log ?? [];
	const shown = useSignal(SHOWN);
	const note = useSignal("");
	const entries = countedEntries(log).reverse();
	const keepNote = (): void => {
		const text = note.value.trim();
		if (text === "") return;
		const refused = addEntry(session, { kind: "note", point: null, text });
		setTrouble("log", refused);
		if (refused === null) note.value = "";
	};
	return (
		<Card title="Log" place="log">
			<div class="field">
				<label for="log-note">note</label>
				<input
					id="log-note"
					type="text"
					value={note.value}
					maxLength={2000}
					onInput={(event) => {
						note.value = event.currentTarget.value;
					}}
					onKeyDown={(event) => {
						if (event.key === "Enter") keepNote();
					}}
				/>
			</div>
			<div class="acts">
				<button type="button" class="act" disabled={note.value.trim() === ""} onClick={keepNote}>
					Keep the note
				</button>
			</div>
			{entries.length === 0 ? (
				<p class="reason">Nothing is done yet. Every point done, reading and note stands here with its time.</p>
			) : (
				<ol class="log-list">
					{entries.slice(0, shown.value).map((entry) => (
						<LogLine key={entry.id} entry={entry} />
					))}
				</ol>
			)}
			{entries.length > shown.value && (
				<button
					type="button"
					class="word"
					onClick={() => {
						shown.value += 50;
					}}
				>
					earlier entries ({entries.length - shown.value})
				</button>
			)}
		</Card>
	);
}

function LogLine({ entry }: { entry: LogEntry }) {
	const session = useSession();
	const point = "point" in entry ? entry.point : null;
	return (
		<li
			onPointerEnter={() => {
				if (point !== null) pointed.value = point;
			}}
		>
			<time>{entry.at.slice(0, 16).replace("T", " ")}</time> <EntryWords entry={entry} />{" "}
			<button
				type="button"
				class="word"
				aria-label={`take back the entry of ${entry.at.slice(11, 16)}`}
				onClick={() => setTrouble("log", addEntry(session, { kind: "taken back", of: entry.id }))}
			>
				take back
			</button>
		</li>
	);
}

function EntryWords({ entry }: { entry: LogEntry }) {
	const session = useSession();
	const unit = session.units.value;
	switch (entry.kind) {
		case "done":
			return (
				<>{`point ${entry.point} done${entry.seconds === null ? "" : `, ${Math.max(1, Math.round(entry.seconds / 60))} min`}`}</>
			);
		case "reading": {
			const stop = session.plan.value?.points.find((point) => point.number === entry.point)?.stop_mm;
			const words =
				stop === undefined || stop === null
					? `${lengthText(entry.over_mm, finely(unit))} over the finished face`
					: readingWords(entry.over_mm, stop, unit);
			return <>{`point ${entry.point} reads: ${words}`}</>;
		}
		case "mark":
			return <>{`mark ${entry.mark}, ${entry.moment}: ${lengthText(entry.read_mm, finely(unit))}`}</>;
		case "note":
			return <>{`${entry.point === null ? "" : `point ${entry.point}: `}${entry.text}`}</>;
		case "taken back":
			return null;
	}
}
