/** A yard of stones checked against the figure in one go, the least waste first. */

import { useSignal } from "@preact/signals";
import { useId, useRef } from "preact/hooks";
import type { Commission } from "../../core/plan/commission.ts";
import { lengthNumber, lengthText, shareText } from "../../core/text/format.ts";
import { lackText, spareText } from "../../core/text/spare.ts";
import { Select } from "../fields/Choice.tsx";
import { useSession } from "../state/context.ts";
import {
	addFiles,
	addList,
	checkTheYard,
	stoneName,
	stonesToCheck,
	takeOut,
	takeStone,
	wishesOf,
	type YardRow,
	yardFound,
	yardStones,
	yardUnderWay,
	yardUnit,
} from "../state/yard.ts";
import { SIZE_WRITTEN } from "../words/sizeWritten.ts";
import { Card } from "./Card.tsx";

const UNITS = [
	{ value: "size", words: "each from its size" },
	...(["mm", "cm", "m", "in", "ft"] as const).map((value) => ({ value, words: value })),
];

export function YardCard() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	const over = useSignal(false);
	const stones = yardStones.value;
	const all = stonesToCheck(commission, session.units.value).length;
	const found = yardFound.value;
	const old = found !== null && found.wishes !== wishesOf(commission);
	return (
		<Card title="A yard of stones" place="yard">
			{/* biome-ignore lint/a11y/noStaticElementInteractions: dropping is a second way; the buttons inside are the first. */}
			<div
				class={over.value ? "yard over" : "yard"}
				data-drops="stones"
				onDragOver={(event) => {
					if (!event.dataTransfer?.types.includes("Files")) return;
					// The window sees by it that the card takes what is dropped.
					event.preventDefault();
					over.value = true;
				}}
				onDragLeave={() => {
					over.value = false;
				}}
				onDrop={(event) => {
					const files = event.dataTransfer?.files;
					over.value = false;
					if (!files?.length) return;
					event.preventDefault();
					void addFiles([...files]);
				}}
			>
				<p class="reason">
					Which of the stones you have, or are offered, takes the figure with the least waste. Drop scans (STL, PLY),
					stone files (JSON) and lists of sizes (TXT, CSV) here; the sizes in stock are checked along. The yard stays
					listed while this window is open; the stone that you take is kept with the commission.
				</p>
				<Adding />
				{stones.map((stone) => (
					<p class="reason yard-stone" key={stoneName(stone)}>
						{stoneName(stone)}{" "}
						<button
							type="button"
							class="word"
							aria-label={`take ${stoneName(stone)} out of the yard`}
							onClick={() => takeOut(stone)}
						>
							take out
						</button>
					</p>
				))}
				{stones.some(({ kind }) => kind === "scan") && (
					<Select
						label="unit of the stones' scans"
						value={yardUnit.value ?? "size"}
						standard="size"
						options={UNITS}
						onSet={(value) => {
							yardUnit.value = value === "size" ? null : (value as typeof yardUnit.value);
						}}
					/>
				)}
				<Checking count={all} />
			</div>
			{old && (
				<p class="reason">These answers are from before the last change of figure, margins or lie: check again.</p>
			)}
			{found && found.rows.length > 0 && <Rows rows={found.rows} />}
		</Card>
	);
}

/** Files by the browser's own dialogue, or a list written here. */
function Adding() {
	const session = useSession();
	const input = useRef<HTMLInputElement>(null);
	const id = `yard-${useId()}`;
	const written = useSignal("");
	const trouble = useSignal<string | null>(null);
	const add = (): void => {
		trouble.value = addList(written.value, "the list", session.units.value);
		if (trouble.value === null) written.value = "";
	};
	return (
		<>
			<label class="yard-label" for={id}>
				sizes, one stone a line
			</label>
			<textarea
				id={id}
				class="yard-list"
				rows={3}
				placeholder={`step block, ${SIZE_WRITTEN[session.units.value]}`}
				value={written.value}
				aria-invalid={trouble.value !== null}
				onInput={(event) => {
					written.value = event.currentTarget.value;
				}}
			/>
			{trouble.value && (
				<p class="trouble" role="alert">
					{trouble.value}
				</p>
			)}
			<div class="acts">
				<button type="button" class="act" disabled={written.value.trim() === ""} onClick={add}>
					Add these sizes
				</button>
				<button type="button" class="act" onClick={() => input.current?.click()}>
					Add stone files
				</button>
				<input
					ref={input}
					class="unseen"
					type="file"
					multiple
					accept=".stl,.ply,.json,.txt,.csv"
					tabIndex={-1}
					aria-hidden="true"
					data-opens="yard"
					onChange={(event) => {
						const field = event.currentTarget;
						void addFiles([...(field.files ?? [])]);
						field.value = "";
					}}
				/>
			</div>
		</>
	);
}

function Checking({ count }: { count: number }) {
	const session = useSession();
	const underWay = yardUnderWay.value;
	if (underWay)
		return (
			<div class="yard-work" data-yard="checking">
				<div class="work">
					<div class="work-words">
						<span role="status">
							checking the yard, {underWay.done} of {underWay.of}
						</span>
						<span>{shareText(underWay.share)}</span>
					</div>
					<progress max={1} value={underWay.share} aria-label="checking the yard" />
				</div>
				<button type="button" class="act" onClick={underWay.cancel}>
					Stop
				</button>
			</div>
		);
	// The figure that is handed to the workers is the one worked out last.
	const waiting = session.stale.value;
	return (
		<div class="acts">
			<button type="button" class="act" disabled={count === 0 || waiting} onClick={() => void checkTheYard(session)}>
				{count === 1 ? "Check the one stone" : `Check ${count} stones`}
			</button>
			{waiting && count > 0 && <span class="reason">as soon as the figure is worked out</span>}
		</div>
	);
}

/** What is proved of it: that no placement spares more, or that none fits. */
const proofWords = ({ fits, bound, certified, searched }: NonNullable<YardRow["fit"]>): string =>
	certified || (!fits && bound < 0) ? "proved" : searched ? "searched" : "not proved";

function Rows({ rows }: { rows: readonly YardRow[] }) {
	const session = useSession();
	const unit = session.units.value;
	const figure = session.answers.value?.model?.volume ?? null;
	return (
		<table class="list yard-rows" data-answer="yard">
			<caption class="unseen">The stones of the yard, the least waste first</caption>
			<thead>
				<tr>
					<th class="words" scope="col">
						stone
					</th>
					<th scope="col">spare</th>
					<th scope="col">waste</th>
				</tr>
			</thead>
			<tbody>
				{rows.map((row) => (
					<tr key={row.name} class={row === rows[0] && row.fit?.fits ? "pointed" : ""}>
						<td class="words">
							<span title={row.fit?.extent.map((side) => lengthText(side, unit)).join(" × ")}>{row.name}</span>
							<br />
							{row.fit?.fits ? (
								<button
									type="button"
									class="word"
									aria-label={`take the stone ${row.name}`}
									onClick={() => void takeStone(session, row)}
								>
									take this stone
								</button>
							) : (
								<small>{row.reason}</small>
							)}
						</td>
						{row.fit ? (
							<td
								class={row.fit.fits ? "" : "bad"}
								title={`${row.fit.spare} mm; no placement spares over ${lengthNumber(row.fit.bound, "mm", 3)} mm`}
							>
								{row.fit.fits ? spareText(row.fit.spare, unit) : `lacks ${lackText(-row.fit.spare, unit)}`}
								<br />
								<small>{proofWords(row.fit)}</small>
							</td>
						) : (
							<td class="bad">not read</td>
						)}
						<td>{row.fit && figure !== null ? shareText(1 - figure / row.fit.volume) : "–"}</td>
					</tr>
				))}
			</tbody>
		</table>
	);
}
