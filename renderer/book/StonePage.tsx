/** Page 2: kind and density, the block, its margins, and whether the figure fits. */

import { useSignal } from "@preact/signals";
import { useId } from "preact/hooks";
import { type Commission, FACES, type FaceName } from "../../core/plan/commission.ts";
import { isAssumed, marginsUsed, orUsual, USUAL_MARGIN } from "../../core/plan/marginsUsed.ts";
import { STONE_KINDS, stoneKind } from "../../core/stone/stoneKinds.ts";
import { lengthText, sizeText, unitWord } from "../../core/text/format.ts";
import { Choices, Select } from "../fields/Choice.tsx";
import { LengthField, LengthInput } from "../fields/LengthField.tsx";
import { NumberField } from "../fields/NumberField.tsx";
import { PutBack } from "../fields/PutBack.tsx";
import { useSession } from "../state/context.ts";
import { waitText } from "../words/waitWords.ts";
import { Card } from "./Card.tsx";
import { CutsCard } from "./CutsCard.tsx";
import { FitCard } from "./FitCard.tsx";
import { Gradually } from "./Gradually.tsx";
import { HandCard } from "./HandCard.tsx";
import { HoldCard } from "./HoldCard.tsx";
import { NatureCard } from "./NatureCard.tsx";
import { QuietCautions } from "./QuietCautions.tsx";
import { ShapeCard } from "./ShapeCard.tsx";
import { StockCard } from "./StockCard.tsx";
import { withStone } from "./withStone.ts";
import { YardCard } from "./YardCard.tsx";

export function StonePage() {
	const session = useSession();
	const waits = session.answers.value?.waits.filter((wait) => wait.page === "stone") ?? [];
	return (
		<Gradually>
			<FitCard />
			{waits.map(({ issue }) => (
				<section class="card" key={issue.code}>
					<p class="trouble">{waitText(issue, session.units.value)}</p>
				</section>
			))}
			<HandCard />
			<ShapeCard />
			<MarginCard />
			<HoldCard />
			<TurningCard />
			<NatureCard />
			<StockCard />
			<YardCard />
			<KindCard />
			<CutsCard />
			<QuietCautions about={["Dust", "Lifting", "Cutting"]} />
		</Gradually>
	);
}

function MarginCard() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	const unit = session.units.value;
	// What is used, also while no block is given: a box that showed another figure than the table would be believed.
	const margins = marginsUsed(commission.stone);
	const standard = orUsual(session.standard.value?.stone.margins_mm ?? margins);
	const all = useSignal<number | null>(null);
	const hint = `hint-${useId()}`;
	const changed = FACES.some((face) => margins[face] !== standard[face]);
	const same = FACES.every((face) => margins[face] === margins.bed);
	const put = (words: string, next: Partial<Record<FaceName, number>>, key: string): string | null =>
		session.change(words, (c) => withStone(c, { margins_mm: { ...marginsUsed(c.stone), ...next } }), { key });
	return (
		<Card title="Margins">
			<p class="reason" id={hint}>
				Stone that must be left between figure and skin, in {unitWord(unit)}; the block unfolded about its front.
			</p>
			{isAssumed(commission.stone) && (
				<p class="reason">
					While no block is given, {sizeText(USUAL_MARGIN, unit)} on every side is assumed unless you ask for another
					margin; it stays when you give one.
				</p>
			)}
			<fieldset class="unfolded">
				<legend class="unseen">margins by face</legend>
				{changed && (
					<PutBack
						label="the margins"
						standard={FACES.map((face) => `${face} ${lengthText(standard[face], unit)}`).join(", ")}
						onPutBack={() => void put("put the margins back", standard, "")}
					/>
				)}
				{FACES.map((face) => (
					<div class={`face ${face}${margins[face] === standard[face] ? "" : " changed"}`} key={face}>
						<label for={`${hint}${face}`}>{face}</label>
						<LengthInput
							id={`${hint}${face}`}
							label={`margin ${face}`}
							mm={margins[face]}
							most={1000}
							describedBy={hint}
							onSet={(mm) => put(`margin ${face} ${sizeText(mm, unit)}`, { [face]: mm }, `margin ${face}`)}
						/>
					</div>
				))}
			</fieldset>
			<LengthField
				label="the same all round"
				mm={same ? margins.bed : all.value}
				most={1000}
				empty="–"
				onSet={(mm) =>
					put(`margins ${sizeText(mm, unit)} all round`, Object.fromEntries(FACES.map((face) => [face, mm])), "margins")
				}
			/>
		</Card>
	);
}

const TURNING_WORDS: Readonly<Record<Commission["stone"]["turning"], string>> = {
	"as stood": "keep it as it stands",
	upright: "keep it upright",
	tipped: "let it be tipped a little",
	free: "let it lie any way round",
};

function TurningCard() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	return (
		<Card title="How it may lie in the stone">
			<Choices
				label="How the figure may lie in the stone"
				value={commission.stone.turning}
				standard="upright"
				options={[
					{ value: "as stood", words: "as it stands", sentence: "Square to the block, front to front, not turned." },
					{ value: "upright", words: "upright", sentence: "Only turned about the vertical." },
					{
						value: "tipped",
						words: "upright within an angle",
						sentence: "Turned and tipped, up to an angle from upright.",
					},
					{ value: "free", words: "any way round", sentence: "Turned freely, for the most stone to spare." },
				]}
				onSet={(turning) => session.change(TURNING_WORDS[turning], (c) => withStone(c, { turning }))}
			/>
			{commission.stone.turning === "tipped" && (
				<NumberField
					label="tipped by at most"
					value={commission.stone.tip_deg}
					standard={10}
					unit="°"
					least={0}
					most={180}
					step={1}
					onSet={(tip_deg) =>
						session.change(`tipped by at most ${tip_deg}°`, (c) => withStone(c, { tip_deg }), { key: "tip" })
					}
				/>
			)}
		</Card>
	);
}

function KindCard() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	const { kind, density_kgm3: own } = commission.stone;
	const published = stoneKind(kind)?.density;
	const shown = own ?? published ?? null;
	const setDensity = (end: 0 | 1, value: number): string | null => {
		if (!shown) return null;
		const next: [number, number] = [shown[0], shown[1]];
		next[end] = value;
		if (next[0] > next[1]) return "The lower density is over the higher one.";
		return session.change(`density ${next[0]} to ${next[1]} kg/m³`, (c) => withStone(c, { density_kgm3: next }), {
			key: "density",
		});
	};
	return (
		<Card title="Kind of stone">
			<Select
				label="kind"
				value={kind}
				standard={session.standard.value?.stone.kind}
				options={[
					...(stoneKind(kind) ? [] : [{ value: kind, words: kind }]),
					...STONE_KINDS.map(({ name }) => ({ value: name, words: name })),
				]}
				onSet={(value) => session.change(`stone: ${value}`, (c) => withStone(c, { kind: value, density_kgm3: null }))}
			/>
			{shown && (
				<>
					<NumberField
						label="density from"
						value={shown[0]}
						standard={published?.[0]}
						unit="kg/m³"
						least={200}
						most={5000}
						step={10}
						onSet={(value) => setDensity(0, value)}
					/>
					<NumberField
						label="to"
						value={shown[1]}
						standard={published?.[1]}
						unit="kg/m³"
						least={200}
						most={5000}
						step={10}
						onSet={(value) => setDensity(1, value)}
					/>
				</>
			)}
			<p class="reason">
				{own ? "Your own range." : "The published range of the kind; the quarry's own figure is better."}
			</p>
		</Card>
	);
}
