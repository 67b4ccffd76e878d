/** Page 1: what stands on the bench, the scan, its stance, size and smallest form. */

import { type Commission, TRANSFERS, type Transfer } from "../../core/plan/commission.ts";
import { lengthText, sizeText } from "../../core/text/format.ts";
import { TRANSFER_WORDS } from "../../core/text/sheetWords.ts";
import { Choices, type Option } from "../fields/Choice.tsx";
import { LengthField } from "../fields/LengthField.tsx";
import { NumberField } from "../fields/NumberField.tsx";
import { hasBenchModel } from "../state/cast.ts";
import { useSession } from "../state/context.ts";
import { resized, roundScale } from "../state/size.ts";
import { BackCard } from "./BackCard.tsx";
import { Card, Figures } from "./Card.tsx";
import { CastCard } from "./CastCard.tsx";
import { Gradually } from "./Gradually.tsx";
import { MendCard } from "./MendCard.tsx";
import { ScanCard } from "./ScanCard.tsx";
import { StanceCard } from "./StanceCard.tsx";
import { StanceQuestion } from "./StanceQuestion.tsx";
import { ThicknessCard } from "./ThicknessCard.tsx";
import { UnitQuestion } from "./UnitQuestion.tsx";
import { UnitsChoice } from "./UnitsChoice.tsx";

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
		<Gradually>
			<UnitQuestion />
			<StanceQuestion />
			<BenchCard />
			<ScanCard />
			<MendCard />
			<StanceCard />
			<BackCard />
			<SizeCard />
			<CastCard />
			<ThicknessCard />
			<FormCard />
		</Gradually>
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

function SizeCard() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	const unit = session.units.value;
	const model = session.answers.value?.model;
	const { scale, benchScale } = commission.model;
	return (
		<Card title="Size" shows={["model"]}>
			<UnitsChoice />
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
								`height ${sizeText(mm, unit)}`,
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
					session.change(`smallest form ${sizeText(mm, unit)}`, (c) => withModel(c, { smallestForm_mm: mm }), {
						key: "smallestForm",
					})
				}
			/>
			<p class="reason">Scan noise below this width calls for no points; a chisel would not see it either.</p>
		</Card>
	);
}
