import { useEffect, useRef } from "preact/hooks";
import { useSession } from "../state/context.ts";
import { allLines, colouring, listShown, page, pointFilter } from "../state/ui.ts";
import { cividis } from "./colourMap.ts";
import { type Colours, colouringChoices, colouringKey, colouringOf } from "./colours.ts";

/** Chooses what colour says, and between the model and its table. */
export function ColourTools() {
	const session = useSession();
	const choices = colouringChoices(session);
	const chosen = colouringKey(colouring.value);
	const plan = session.plan.value;
	const showsPoints = plan !== null && ["points", "bench"].includes(page.value);
	return (
		<>
			{!listShown.value && (
				<label>
					colour
					<select
						value={choices.some((choice) => choice.key === chosen) ? chosen : "plaster"}
						onChange={(event) => {
							colouring.value = colouringOf(event.currentTarget.value);
						}}
					>
						{choices.map(({ key, words }) => (
							<option key={key} value={key}>
								{words}
							</option>
						))}
					</select>
				</label>
			)}
			{showsPoints && (
				<label>
					points
					<select
						value={pointFilter.value.round === null ? "" : String(pointFilter.value.round)}
						onChange={(event) => {
							const round = event.currentTarget.value === "" ? null : Number(event.currentTarget.value);
							pointFilter.value = { ...pointFilter.value, round };
						}}
					>
						<option value="">every round</option>
						{plan.rounds.map((round, i) => (
							<option key={round.name} value={i}>
								{round.name}
							</option>
						))}
					</select>
				</label>
			)}
			{showsPoints && !listShown.value && (
				<button
					type="button"
					class="act"
					aria-pressed={allLines.value}
					onClick={() => {
						allLines.value = !allLines.value;
					}}
				>
					drill lines
				</button>
			)}
			{plan && (
				<button
					type="button"
					class="act"
					aria-pressed={listShown.value}
					onClick={() => {
						listShown.value = !listShown.value;
					}}
				>
					points as a table
				</button>
			)}
		</>
	);
}

const HATCH_CLASS = {
	"by eye": "swatch hatched",
	"not reached": "swatch crossed",
	thin: "swatch hatched",
	"no points": "swatch crossed",
} as const;
const HATCH_WORDS = {
	"by eye": "by eye: points would stand too close",
	"not reached": "undercut: no drill line reaches it",
	thin: "thin part",
	"no points": "no points wanted: it stays rough",
} as const;

export function Legend({ colours }: { colours: Colours }) {
	const bar = useRef<HTMLCanvasElement>(null);
	const legend = colours.legend;
	useEffect(() => {
		const pen = bar.current?.getContext("2d");
		if (!pen || !bar.current) return;
		for (let x = 0; x < bar.current.width; x++) {
			pen.fillStyle = `rgb(${cividis(x / (bar.current.width - 1)).join(" ")})`;
			pen.fillRect(x, 0, 1, bar.current.height);
		}
	}, [legend?.ends === null, legend === null]);
	if (!legend) return null;
	return (
		<details class="legend" open>
			<summary>{legend.title}</summary>
			{legend.ends && (
				<>
					<canvas ref={bar} width={196} height={10} />
					<div class="ends">
						<span>{legend.ends[0]}</span>
						<span>{legend.ends[1]}</span>
					</div>
				</>
			)}
			{legend.hatched.map((kind) => (
				<div key={kind}>
					<span class={HATCH_CLASS[kind]} />
					{HATCH_WORDS[kind]}
				</div>
			))}
			<p class="reason">{legend.note}</p>
		</details>
	);
}
