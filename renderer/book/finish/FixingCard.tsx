/** Fixing: what it weighs, whether it stands by itself and on its base, the pin, and whom to ask. */

import { STANDING_PLACES, type StandingPlace } from "../../../core/finish/fixing.ts";
import { liftWay } from "../../../core/finish/lifting.ts";
import type { Commission } from "../../../core/plan/commission.ts";
import { STONE_KINDS } from "../../../core/stone/stoneKinds.ts";
import { angleText, lengthText, massRangeText, sentenceIn, sizeText } from "../../../core/text/format.ts";
import { refusalText } from "../../../core/text/refusals.ts";
import { Choices, Select, Tick } from "../../fields/Choice.tsx";
import { LengthField } from "../../fields/LengthField.tsx";
import { NumberField } from "../../fields/NumberField.tsx";
import { useSession } from "../../state/context.ts";
import { changePart, changePin } from "../../state/finish.ts";
import { fixingRows, LIFT_WORDS } from "../../words/fixing.ts";
import { Card, Figures } from "../Card.tsx";

const PLACES: Readonly<Record<StandingPlace, string>> = {
	indoors: "indoors, out of reach",
	outdoors: "outdoors, in wind",
	public: "where the public reaches it",
	overhead: "over people",
};
const SIDES = ["length", "width", "height"] as const;
const OWN = "as the figure";

export function FixingCard() {
	const session = useSession();
	const { fixing } = session.commission.value as Commission;
	const standard = session.standard.value?.fixing ?? fixing;
	const unit = session.units.value;
	const found = session.answers.value?.finish?.fixing;
	const fixed = found?.answer;
	const model = session.answers.value?.model;
	const suggestBase = (): [number, number, number] => {
		const [x, y] = model?.size ?? [200, 200, 0];
		return [Math.ceil((x + 60) / 10) * 10, Math.ceil((y + 60) / 10) * 10, 60];
	};
	return (
		<Card title="Fixing" shows={["finish"]} place="fixing">
			{found?.issue && <p class="trouble">{sentenceIn(unit, refusalText(found.issue))}</p>}
			{!found && <p class="reason">Known once model and stone are.</p>}
			{fixed && (
				<>
					<p class={fixed.stands ? "answer" : "answer bad"}>
						{massRangeText(...fixed.mass)}
						{fixed.stands
							? `, stands${fixed.pin ? `, pin of ${sizeText(fixed.pin.setting.bar_mm, unit, 0)}` : ""}`
							: fixed.pin && !fixed.pin.holds
								? ": no, the pin does not hold"
								: ": no, it does not stand"}
					</p>
					{fixed.reasons.map((issue) => (
						<p class="trouble" key={issue.code}>
							{sentenceIn(unit, refusalText(issue))}
						</p>
					))}
					{fixed.engineer.map((issue) => (
						<p class="news" key={issue.code}>
							{sentenceIn(unit, refusalText(issue))}
						</p>
					))}
					<Figures rows={fixingRows(fixed, unit)} />
					<p class="reason">{LIFT_WORDS[liftWay((fixed.wet ?? fixed.mass)[1])]}</p>
				</>
			)}
			<Select
				label="where it will stand"
				value={fixing.place}
				standard={standard.place}
				options={STANDING_PLACES.map((value) => ({ value, words: PLACES[value] }))}
				onSet={(place) => changePart(session, `it stands ${place}`, "fixing", { place })}
			/>
			<Tick
				label="set on a base with a pin"
				value={fixing.base !== null}
				onSet={(on) =>
					changePart(session, on ? "set it on a base" : "no base", "fixing", {
						base: on ? { size_mm: suggestBase(), stone: null } : null,
					})
				}
			/>
			{fixing.base && <BaseFields />}
			{model && !model.closed && (
				<LengthField
					label="stone behind the open shell"
					mm={fixing.back_mm}
					standard={standard.back_mm}
					least={0.1}
					most={5000}
					onSet={(back_mm) => changePart(session, "back for the weight", "fixing", { back_mm })}
				/>
			)}
			<NumberField
				label="slope of the ground"
				unit="°"
				value={fixing.slope_deg}
				standard={standard.slope_deg}
				least={0}
				most={45}
				onSet={(slope_deg) => changePart(session, "slope of the ground", "fixing", { slope_deg })}
			/>
			<NumberField
				label="must forgive, over the slope"
				unit="°"
				value={fixing.leastTip_deg}
				standard={standard.leastTip_deg}
				least={0}
				most={60}
				onSet={(leastTip_deg) => changePart(session, "least tipping angle", "fixing", { leastTip_deg })}
			/>
			<LiftFields />
			{fixed?.pin && (
				<p class="reason">
					{fixed.pin.aside < 0.05
						? "The pin stands under the centre of mass"
						: `The pin stands ${lengthText(fixed.pin.aside, unit)} from under the centre of mass`}
					, at {lengthText(fixed.pin.at[0], unit)} right and {lengthText(fixed.pin.at[1], unit)} behind the middle of
					the model. {angleText(fixing.slope_deg)} of slope pull on it with {Math.round(fixed.slopeLoad)} N.
				</p>
			)}
			{fixing.base && <PinRulesFields />}
		</Card>
	);
}

const LIFT = [
	["from_mm", "hands at the start, over the floor", 3000],
	["to_mm", "hands at the end", 3000],
	["reach_mm", "hands in front of the ankles", 2000],
] as const;

/** How the figure is lifted, for the recommended weight. */
function LiftFields() {
	const session = useSession();
	const { lift } = (session.commission.value as Commission).fixing;
	const standard = session.standard.value?.fixing.lift ?? lift;
	const put = (words: string, change: Partial<typeof lift>): string | null =>
		changePart(session, words, "fixing", { lift: { ...lift, ...change } });
	return (
		<details class="more">
			<summary>How it is lifted</summary>
			<p class="reason">
				Revised NIOSH lifting equation (94-110, revised 2021), now and then, without handles. It is a recommendation for
				an even load and a firm floor; a figure that can break is neither.
			</p>
			{LIFT.map(([key, label, most]) => (
				<LengthField
					key={key}
					label={label}
					mm={lift[key]}
					standard={standard[key]}
					most={most}
					digits={0}
					onSet={(mm) => put(label, { [key]: mm })}
				/>
			))}
			<NumberField
				label="twist of the body"
				unit="°"
				value={lift.twist_deg}
				standard={standard.twist_deg}
				least={0}
				most={180}
				onSet={(twist_deg) => put("twist of the body", { twist_deg })}
			/>
		</details>
	);
}

function BaseFields() {
	const session = useSession();
	const { base } = (session.commission.value as Commission).fixing;
	if (!base) return null;
	const put = (change: Partial<typeof base>, words: string): string | null =>
		changePart(session, words, "fixing", { base: { ...base, ...change } });
	return (
		<>
			{SIDES.map((side, i) => (
				<LengthField
					key={side}
					label={`base ${side}`}
					mm={base.size_mm[i]}
					least={1}
					onSet={(mm) => {
						const size_mm: [number, number, number] = [...base.size_mm];
						size_mm[i] = mm;
						return put({ size_mm }, `${side} of the base`);
					}}
				/>
			))}
			<Select
				label="base of"
				value={base.stone ?? OWN}
				options={[{ value: OWN, words: OWN }, ...STONE_KINDS.map(({ name }) => ({ value: name, words: name }))]}
				onSet={(stone) => put({ stone: stone === OWN ? null : stone }, `base of ${stone}`)}
			/>
		</>
	);
}

function PinRulesFields() {
	const session = useSession();
	const { pin } = (session.commission.value as Commission).fixing;
	const standard = session.standard.value?.fixing.pin ?? pin;
	const chosen = session.answers.value?.finish?.fixing.answer?.pin;
	const numbers = [
		["thicknessShare", "bar, most of the thickness", 0.05, 1, 0.01],
		["depthInBars", "depth in bar diameters", 1, 40, 1],
		["aside", "most aside, share of the way out", 0, 1, 0.05],
		["resinWaste", "resin wasted, share", 0, 5, 0.05],
	] as const;
	const lengths = [
		["cover_mm", "least stone round the hole"],
		["clearance_mm", "hole less bar"],
		["extra_mm", "hole under the bar"],
	] as const;
	return (
		<details class="more">
			<summary>Pin and its rules</summary>
			<p class="reason">
				No rule for pins in carved stone was found; these are starting values. One third of the thickness: a gravestone
				conservator's page. Bars of 16 mm to 900 mm of height, 20 to 1200: a supplier's summary of memorial masons'
				rules. Depths: anchor makers' tables for concrete hold 4 to 20 diameters. Conservators warn against pins as a
				matter of course, and tests in marble found fibre rods kinder to the stone than steel.
			</p>
			<Choices
				inRow
				label="bar and place"
				value={pin.bar_mm === null && pin.at_mm === null ? "chosen" : "own"}
				options={[
					{ value: "chosen", words: "chosen by the rules" },
					{ value: "own", words: "my own" },
				]}
				onSet={(how) =>
					changePin(
						session,
						how === "own" ? "my own pin" : "pin by the rules",
						how === "own"
							? {
									bar_mm: chosen?.setting.bar_mm ?? 12,
									at_mm: chosen ? [round(chosen.at[0]), round(chosen.at[1])] : [0, 0],
								}
							: { bar_mm: null, at_mm: null, depth_mm: null },
					)
				}
			/>
			{pin.bar_mm !== null && (
				<LengthField
					label="bar"
					mm={pin.bar_mm}
					least={0.5}
					most={100}
					onSet={(bar_mm) => changePin(session, "bar of the pin", { bar_mm })}
				/>
			)}
			{pin.at_mm !== null &&
				(["right", "behind"] as const).map((way, i) => (
					<LengthField
						key={way}
						label={`${way} of the model's middle`}
						mm={pin.at_mm?.[i] ?? 0}
						least={-20000}
						onSet={(mm) => {
							const at_mm: [number, number] = [pin.at_mm?.[0] ?? 0, pin.at_mm?.[1] ?? 0];
							at_mm[i] = mm;
							return changePin(session, "place of the pin", { at_mm });
						}}
					/>
				))}
			{lengths.map(([key, label]) => (
				<LengthField
					key={key}
					label={label}
					mm={pin[key]}
					standard={standard[key]}
					least={key === "clearance_mm" ? 0.1 : 0}
					most={key === "clearance_mm" ? 50 : 100}
					onSet={(mm) => changePin(session, label, { [key]: mm })}
				/>
			))}
			{numbers.map(([key, label, least, most, step]) => (
				<NumberField
					key={key}
					label={label}
					value={pin[key]}
					standard={standard[key]}
					least={least}
					most={most}
					step={step}
					onSet={(value) => changePin(session, label, { [key]: value })}
				/>
			))}
		</details>
	);
}

const round = (mm: number): number => Math.round(mm * 10) / 10;
