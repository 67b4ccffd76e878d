/** The stone as it is: by its sides, by tape, or an offcut from a file; what is broken off it. */

import { useRef } from "preact/hooks";
import type { Commission } from "../../core/plan/commission.ts";
import { readStoneFile } from "../../core/plan/stoneFile.ts";
import { Refusal } from "../../core/refusal.ts";
import { BLOCK_READINGS } from "../../core/stone/measuredBlock.ts";
import { lengthText, shareText, sizeText } from "../../core/text/format.ts";
import { refusalText } from "../../core/text/refusals.ts";
import { call, inShell } from "../bridge.ts";
import { Choices, Select } from "../fields/Choice.tsx";
import { LengthField } from "../fields/LengthField.tsx";
import { useSession } from "../state/context.ts";
import { troubleWords } from "../state/troubleWords.ts";
import { setTrouble } from "../state/ui.ts";
import { BreakFields } from "./BreakFields.tsx";
import { Card, Figures } from "./Card.tsx";
import { SidesFields } from "./SidesCard.tsx";
import { withStone } from "./withStone.ts";

type Given = Commission["stone"]["given"];

const WAYS: readonly {
	readonly value: "sides" | "measured" | "offcut";
	readonly words: string;
	readonly sentence: string;
}[] = [
	{ value: "sides", words: "a block by its sides", sentence: "Sawn and square, or taken to be." },
	{ value: "measured", words: "a block by tape", sentence: "Twelve edges and twelve face diagonals, as delivered." },
	{ value: "offcut", words: "an offcut", sentence: "From a file: its scan (STL, PLY), or its faces (JSON)." },
];

export function ShapeCard() {
	const session = useSession();
	const { given, planes } = (session.commission.value as Commission).stone;
	const way = given === "planes" || given === "scan" ? "offcut" : given;
	const set = (next: Given, words: string): void =>
		setTrouble(
			"block",
			session.change(words, (c) => withStone(c, { given: next, byHand: null })),
		);
	return (
		<Card title="Stone" place="block">
			<Choices
				label="How the stone is given"
				value={way}
				standard="sides"
				options={WAYS}
				onSet={(next) =>
					set(
						next === "offcut" ? (planes ? "planes" : "scan") : next,
						WAYS.find((one) => one.value === next)?.words ?? next,
					)
				}
			/>
			{way === "sides" && <SidesFields />}
			{way === "measured" && <TapeFields />}
			{way === "offcut" ? <OffcutFields /> : <BreakFields />}
		</Card>
	);
}

const GROUPS: readonly { readonly title: string; readonly from: number; readonly to: number }[] = [
	{ title: "edges along the length", from: 0, to: 4 },
	{ title: "edges along the width", from: 4, to: 8 },
	{ title: "edges along the height", from: 8, to: 12 },
	{ title: "diagonals of bed and top", from: 12, to: 16 },
	{ title: "diagonals of front and back", from: 16, to: 20 },
	{ title: "diagonals of left and right", from: 20, to: 24 },
];

function TapeFields() {
	const session = useSession();
	const unit = session.units.value;
	const { measured_mm } = (session.commission.value as Commission).stone;
	const found = session.answers.value?.stone?.measured;
	const read = measured_mm ?? BLOCK_READINGS.map(() => null);
	const put = (index: number, mm: number): string | null =>
		session.change(
			`${BLOCK_READINGS[index].words} ${sizeText(mm, unit)}`,
			(c) => {
				const next = [...(c.stone.measured_mm ?? BLOCK_READINGS.map(() => null))];
				next[index] = mm;
				return withStone(c, { measured_mm: next });
			},
			{ key: `tape ${index}` },
		);
	return (
		<>
			<p class="reason">Bed is the face below, front the one before you, left and right as you see them.</p>
			{GROUPS.map(({ title, from, to }) => (
				<fieldset class="group" key={title}>
					<legend>{title}</legend>
					{BLOCK_READINGS.slice(from, to).map(({ words, kind }, i) => (
						<LengthField
							key={words}
							label={words.replace(`${kind} from `, "")}
							mm={read[from + i]}
							least={1}
							empty="not read"
							onSet={(mm) => put(from + i, mm)}
						/>
					))}
				</fieldset>
			))}
			{found && (
				<p class={found.wrong ? "trouble" : "reason"} data-answer="tape">
					{found.wrong
						? `Measure again: ${BLOCK_READINGS[found.wrong.index].words}. It is ${lengthText(Math.abs(found.wrong.off), unit)} too ${found.wrong.off > 0 ? "long" : "short"} for the other readings; they ask for ${lengthText(found.wrong.expected, unit)}.`
						: `The readings agree to ${lengthText(found.spread, unit)} each.`}
				</p>
			)}
		</>
	);
}

const UNIT_WORDS = { mm: "mm", cm: "cm", m: "m", in: "in", ft: "ft" } as const;

function OffcutFields() {
	const session = useSession();
	const unit = session.units.value;
	const input = useRef<HTMLInputElement>(null);
	const { given, scan, planes } = (session.commission.value as Commission).stone;
	const answer = session.answers.value?.stone;
	const open = async (file: File): Promise<void> => {
		if (/\.(stl|ply)$/i.test(file.name)) setTrouble("block", await session.openStone({ kind: "file", file }));
		else take(await file.text(), file.name);
	};
	/** By the system's own dialogue under the shell, which then finds the scan again; else by the browser's. */
	const ask = async (): Promise<void> => {
		if (!inShell()) {
			input.current?.click();
			return;
		}
		try {
			const chosen = await call("chooseFile", { what: "stone" });
			if (chosen?.kind === "scan") setTrouble("block", await session.openStone({ kind: "grant", ...chosen.grant }));
			else if (chosen?.kind === "stone") take(chosen.text, chosen.name);
		} catch (trouble) {
			setTrouble("block", troubleWords(trouble));
		}
	};
	const take = (text: string, name: string): void => {
		try {
			const { given: way, block_mm, breaks, measured_mm, planes: faces } = readStoneFile(text, name);
			const stone = { given: way, block_mm, breaks, measured_mm, planes: faces, byHand: null };
			setTrouble(
				"block",
				session.change(`stone: ${name}`, (c) => withStone(c, stone)),
			);
		} catch (trouble) {
			if (!(trouble instanceof Refusal)) throw trouble;
			setTrouble("block", refusalText(trouble.issue));
		}
	};
	return (
		<>
			<p class="reason">
				{given === "scan"
					? (scan?.file ?? "No file is open.")
					: `${planes?.length ?? 0} faces; places are counted from the lowest corner of its bounds.`}
			</p>
			{given === "scan" && scan && (
				<Select
					label="unit of the stone's scan"
					value={scan.unit}
					options={(["mm", "cm", "m", "in", "ft"] as const).map((value) => ({ value, words: UNIT_WORDS[value] }))}
					onSet={(next) =>
						setTrouble(
							"block",
							session.change(`the stone's scan is in ${next}`, (c) =>
								withStone(c, { scan: c.stone.scan && { ...c.stone.scan, unit: next } }),
							),
						)
					}
				/>
			)}
			<div class="acts">
				<button type="button" class="act" onClick={() => void ask()}>
					Open the stone's file
				</button>
				<input
					ref={input}
					class="unseen"
					type="file"
					accept=".stl,.ply,.json"
					tabIndex={-1}
					aria-hidden="true"
					data-opens="stone"
					onChange={(event) => {
						const field = event.currentTarget;
						const file = field.files?.[0];
						if (file) void open(file);
						field.value = "";
					}}
				/>
			</div>
			{answer && answer.stone.block.kind === "planes" && (
				<Figures
					rows={[
						["faces", String(answer.stone.faces.length)],
						["reaches", answer.block.map((side) => lengthText(side, unit, 0)).join(" × ")],
						...(answer.scanned && answer.scanned.hollow > 0.002
							? ([["hollows, of its hull", shareText(answer.scanned.hollow)]] as const)
							: []),
					]}
				/>
			)}
		</>
	);
}
