/** Page 1: what stands on the bench, the scan, its stance, size and smallest form. */

import { type Commission, TRANSFERS, type Transfer, type Unit } from "../../core/plan/commission.ts";
import { UNITS } from "../../core/scan/unit.ts";
import { lengthText } from "../../core/text/format.ts";
import { refusalText } from "../../core/text/refusals.ts";
import { TRANSFER_WORDS } from "../../core/text/sheetWords.ts";
import { Choices, type Option, Select, Tick } from "../fields/Choice.tsx";
import { LengthField } from "../fields/LengthField.tsx";
import { NumberField } from "../fields/NumberField.tsx";
import { hasBenchModel } from "../state/cast.ts";
import { useSession } from "../state/context.ts";
import { resized, roundScale } from "../state/size.ts";
import { countText, healthFindings } from "../words/health.ts";
import { Card, Figures } from "./Card.tsx";
import { CastCard } from "./CastCard.tsx";
import { MendCard } from "./MendCard.tsx";
import { OpenFile } from "./OpenFile.tsx";
import { StanceCard } from "./StanceCard.tsx";

const transferOptions: readonly Option<Transfer>[] = TRANSFERS.map((value) => ({
	value,
	words: TRANSFER_WORDS[value].bench,
	sentence: TRANSFER_WORDS[value].how,
}));

const withModel = (c: Commission, model: Partial<Commission["model"]>): Commission => ({
	...c,
	model: { ...c.model, ...model },
});

export function ModelPage() {
	return (
		<>
			<BenchCard />
			<ScanCard />
			<MendCard />
			<StanceCard />
			<SizeCard />
			<CastCard />
			<FormCard />
		</>
	);
}

function BenchCard() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	return (
		<Card title="What stands on the bench?">
			<Choices
				label="What stands on the bench"
				value={commission.transfer}
				options={transferOptions}
				onSet={(transfer) => session.change(`on the bench: ${transfer}`, (c) => ({ ...c, transfer }))}
			/>
			{commission.transfer === null && (
				<p class="trouble">Choose one: columns, errors and cautions that do not belong to it are then left out.</p>
			)}
		</Card>
	);
}

function ScanCard() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	const scan = session.scan.value;
	if (!scan) return null;
	const answers = session.answers.value;
	const sure = scan.unit.unit;
	const chosen = commission.scan.unit ?? sure;
	const reason = commission.scan.unit === null ? scan.unit.reason : null;
	const waits = answers?.waits.filter((wait) => wait.page === "model" && !wait.issue.code.startsWith("unit.")) ?? [];
	return (
		<Card title="Scan" place="scan">
			<Figures
				rows={[
					["file", scan.name],
					["kind", scan.format],
					["triangles", countText(scan.health.triangles)],
				]}
			/>
			<Select
				label="unit of the file"
				value={chosen}
				standard={sure ?? undefined}
				options={UNITS.map((value) => ({ value, words: unitWords(value, scan.unit.candidates) }))}
				onSet={(unit: Unit) =>
					session.change(`read the scan in ${unit}`, (c) => ({
						...c,
						scan: { ...c.scan, unit: unit === sure ? null : unit },
					}))
				}
			/>
			{reason && (
				<p class={chosen === null ? "trouble" : "reason"}>
					{refusalText(reason)}
					{chosen === null && " Choose the unit that gives the right size."}
				</p>
			)}
			<Tick
				label="mirrored"
				sentence="Left for right; every page of the sheets then says so."
				value={commission.scan.mirrored}
				standard={false}
				onSet={(mirrored) =>
					session.change(mirrored ? "mirror the model" : "take the mirroring back", (c) => ({
						...c,
						scan: { ...c.scan, mirrored },
					}))
				}
			/>
			<ul>
				{healthFindings(scan.health).map(({ words, grave }) => (
					<li class={grave ? "trouble" : "reason"} key={words}>
						{words}
					</li>
				))}
				{scan.notes.map((note) => (
					<li class="reason" key={note.code}>
						{refusalText(note)}
					</li>
				))}
				{waits.map(({ issue }) => (
					<li class="trouble" key={issue.code}>
						{refusalText(issue)}
					</li>
				))}
			</ul>
			<div class="acts">
				<OpenFile words="Open another scan" />
			</div>
		</Card>
	);
}

const unitWords = (unit: Unit, candidates: readonly { unit: Unit; largestMm: number }[]): string => {
	const candidate = candidates.find((one) => one.unit === unit);
	return candidate ? `${unit}, ${lengthText(candidate.largestMm, "mm", 0)} at most` : unit;
};

function SizeCard() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	const unit = session.units.value;
	const model = session.answers.value?.model;
	const { scale, benchScale } = commission.model;
	return (
		<Card title="Size">
			<NumberField
				label="stone ÷ scan"
				value={scale}
				standard={1}
				least={0.001}
				most={1000}
				step={0.01}
				onSet={(value) => session.change(`scale ${value}`, (c) => resized(c, value), { key: "scale" })}
			/>
			{model && (
				<>
					<LengthField
						label="height in stone"
						mm={model.size[2]}
						least={1}
						most={20000}
						onSet={(mm) =>
							session.change(
								`height ${lengthText(mm, unit)}`,
								(c) => resized(c, roundScale((c.model.scale * mm) / model.size[2])),
								{ key: "scale" },
							)
						}
					/>
					<Figures
						rows={[
							["width", lengthText(model.size[0], unit)],
							["depth", lengthText(model.size[1], unit)],
						]}
					/>
				</>
			)}
			{hasBenchModel(session) && (
				<NumberField
					label="stone ÷ bench model"
					value={benchScale}
					standard={1}
					least={0.001}
					most={1000}
					step={0.01}
					onSet={(value) =>
						session.change(`stone ${value} times the bench model`, (c) => withModel(c, { benchScale: value }), {
							key: "benchScale",
						})
					}
				/>
			)}
		</Card>
	);
}

function FormCard() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	const unit = session.units.value;
	return (
		<Card title="Smallest form">
			<LengthField
				label="read no form narrower than"
				mm={commission.model.smallestForm_mm}
				standard={session.standard.value?.model.smallestForm_mm}
				least={0.2}
				most={50}
				onSet={(mm) =>
					session.change(`smallest form ${lengthText(mm, unit)}`, (c) => withModel(c, { smallestForm_mm: mm }), {
						key: "smallestForm",
					})
				}
			/>
			<p class="reason">Scan noise below this width calls for no points; a chisel would not see it either.</p>
		</Card>
	);
}
