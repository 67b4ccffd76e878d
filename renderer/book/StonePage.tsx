/** Page 2: kind and density, the block, its margins, and whether the figure fits. */

import { useSignal } from "@preact/signals";
import { useId } from "preact/hooks";
import { type Commission, FACES, type FaceName } from "../../core/plan/commission.ts";
import { STONE_KINDS, stoneKind } from "../../core/stone/stoneKinds.ts";
import { lengthNumber, lengthText, massRangeText, massText, shareText } from "../../core/text/format.ts";
import { refusalText } from "../../core/text/refusals.ts";
import type { Vec3 } from "../../core/vector.ts";
import { Choices, Select } from "../fields/Choice.tsx";
import { LengthField, LengthInput } from "../fields/LengthField.tsx";
import { NumberField } from "../fields/NumberField.tsx";
import { PutBack } from "../fields/PutBack.tsx";
import type { AnswersShown } from "../jobs/shown.ts";
import { useSession } from "../state/context.ts";
import { lackText, spareText } from "../words/spare.ts";
import { Card, Figures } from "./Card.tsx";

const withStone = (c: Commission, stone: Partial<Commission["stone"]>): Commission => ({
	...c,
	stone: { ...c.stone, ...stone },
});

export function StonePage() {
	const session = useSession();
	const waits = session.answers.value?.waits.filter((wait) => wait.page === "stone") ?? [];
	return (
		<>
			<FitCard />
			{waits.map(({ issue }) => (
				<section class="card" key={issue.code}>
					<p class="trouble">{refusalText(issue)}</p>
				</section>
			))}
			<BlockCard />
			<MarginCard />
			<TurningCard />
			<KindCard />
		</>
	);
}

const SIDES = ["length", "width", "height"] as const;

export const threeSides = (sides: Vec3, unit: "mm" | "in", digits = 0): string =>
	`${sides.map((side) => lengthNumber(side, unit, digits)).join(" × ")} ${unit}`;

function FitCard() {
	const session = useSession();
	const unit = session.units.value;
	const answers = session.answers.value;
	const stone = answers?.stone;
	if (!stone) return null;
	const { fit } = stone;
	const tightest = fit.gaps.reduce((a, b) => (b.gap - b.margin < a.gap - a.margin ? b : a));
	return (
		<Card title="Does it fit?">
			<p class={fit.fits ? "answer" : "answer bad"} data-answer="fit">
				{fit.fits
					? `Yes, with ${spareText(fit.spare, unit)} to spare over the margins.`
					: `No: ${lackText(-fit.spare, unit)} too much at ${tightest.face}.`}
			</p>
			<p class="reason">{boundWords(fit, wayOf(session.commission.value), unit)}</p>
			<table class="list">
				<caption class="unseen">Stone left at each face</caption>
				<thead>
					<tr>
						<th class="words" scope="col">
							face
						</th>
						<th scope="col">gap {unit}</th>
						<th scope="col">margin</th>
						<th scope="col">to spare</th>
					</tr>
				</thead>
				<tbody>
					{fit.gaps.map(({ face, gap, margin }) => (
						<tr key={face} class={face === tightest.face ? "pointed" : ""}>
							<td class="words">{face === tightest.face ? `${face}, tightest` : face}</td>
							<td title={`${gap} mm`}>{lengthNumber(gap, unit)}</td>
							<td>{lengthNumber(margin, unit)}</td>
							<td>{lengthNumber(gap - margin, unit)}</td>
						</tr>
					))}
				</tbody>
			</table>
			<SizesAnswer answers={answers} />
			<Figures
				rows={[
					["the stone weighs", massRangeText(...stone.stoneMass)],
					...(stone.stoneMassWet ? [["wet, at most", massText(stone.stoneMassWet[1])] as const] : []),
					...(stone.figureMass ? [["the figure weighs", massRangeText(...stone.figureMass)] as const] : []),
					...(stone.wasteShare === null ? [] : [["cut away", shareText(stone.wasteShare)] as const]),
				]}
			/>
		</Card>
	);
}

/** What is proved of the best placement; the bound lies within the tolerance of it, or is said with its gap. */
function boundWords(fit: { bound: number; certified: boolean }, way: string, unit: "mm" | "in"): string {
	const limit =
		fit.bound < 0
			? `every ${way} lacks ${spareText(-fit.bound, unit)} or more`
			: `no ${way} spares over ${lackText(fit.bound, unit)}`;
	return fit.certified ? `Proved: ${limit}.` : `As far as it was searched, ${limit}.`;
}

const wayOf = (commission: Commission | null): string =>
	commission?.stone.turning === "free" ? "placement" : "upright placement";

function SizesAnswer({ answers }: { answers: AnswersShown }) {
	const session = useSession();
	const unit = session.units.value;
	const { sizes, model } = answers;
	if (!sizes) return null;
	const { largest, smallest } = sizes;
	return (
		<>
			<Figures
				rows={[
					...(largest && model
						? ([
								[
									"largest that fits",
									`${lengthText(largest.scale * model.size[2], unit, 0)} high`,
									undefined,
									`${shareText(largest.scale, 2)} of the present size${largest.certified ? ", proved" : ""}`,
								],
							] as const)
						: []),
					[
						"smallest block",
						threeSides(smallest.sides, unit, 1),
						undefined,
						smallest.certified ? "proved" : "best found",
					],
					["as sawn, to order", threeSides(smallest.sawn, unit)],
				]}
			/>
			<div class="acts">
				<button
					type="button"
					class="word"
					onClick={() =>
						session.change("take the smallest sawn block", (c) => withStone(c, { block_mm: [...smallest.sawn] }))
					}
				>
					take that block
				</button>
			</div>
		</>
	);
}

function BlockCard() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	const unit = session.units.value;
	const assumed = session.answers.value?.stone?.assumed === true;
	const shown = commission.stone.block_mm ?? session.answers.value?.stone?.block ?? null;
	return (
		<Card title="Block" place="block">
			{SIDES.map((side, i) => (
				<LengthField
					key={side}
					label={side}
					mm={shown ? shown[i] : null}
					least={1}
					digits={unit === "mm" ? 1 : 2}
					onSet={(mm) =>
						session.change(
							`${side} of the block ${lengthText(mm, unit)}`,
							(c) => {
								const block: [number, number, number] = [...(c.stone.block_mm ?? shown ?? [mm, mm, mm])];
								block[i] = mm;
								return withStone(c, { block_mm: block });
							},
							{ key: `block ${side}` },
						)
					}
				/>
			))}
			{commission.stone.block_mm === null ? (
				<p class="reason">
					{assumed
						? "Not given: the smallest sawn block is assumed. Type a side when the stone is there."
						: "Not given: the smallest sawn block will be assumed."}
				</p>
			) : (
				<div class="acts">
					<button
						type="button"
						class="word"
						onClick={() => session.change("assume the smallest block", (c) => withStone(c, { block_mm: null }))}
					>
						no stone yet: assume the smallest
					</button>
				</div>
			)}
		</Card>
	);
}

function MarginCard() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	const unit = session.units.value;
	const margins = commission.stone.margins_mm;
	const standard = session.standard.value?.stone.margins_mm ?? margins;
	const all = useSignal<number | null>(null);
	const hint = `hint-${useId()}`;
	const changed = FACES.some((face) => margins[face] !== standard[face]);
	const same = FACES.every((face) => margins[face] === margins.bed);
	const put = (words: string, next: Partial<Record<FaceName, number>>, key: string): string | null =>
		session.change(words, (c) => withStone(c, { margins_mm: { ...c.stone.margins_mm, ...next } }), { key });
	return (
		<Card title="Margins">
			<p class="reason" id={hint}>
				Stone that must be left between figure and skin, in {unit}; the block unfolded about its front.
			</p>
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
							onSet={(mm) => put(`margin ${face} ${lengthText(mm, unit)}`, { [face]: mm }, `margin ${face}`)}
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
					put(
						`margins ${lengthText(mm, unit)} all round`,
						Object.fromEntries(FACES.map((face) => [face, mm])),
						"margins",
					)
				}
			/>
		</Card>
	);
}

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
					{ value: "upright", words: "upright", sentence: "Only turned about the vertical." },
					{ value: "free", words: "any way round", sentence: "Turned freely, for the most stone to spare." },
				]}
				onSet={(turning) =>
					session.change(turning === "upright" ? "keep it upright" : "let it lie any way round", (c) =>
						withStone(c, { turning }),
					)
				}
			/>
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
