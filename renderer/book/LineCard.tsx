/** How holes are drilled: how deep at once, how far a line may lean, and how well it is aimed. */

import type { Commission } from "../../core/plan/commission.ts";
import { angleText, shareText, sizeText } from "../../core/text/format.ts";
import { Choices } from "../fields/Choice.tsx";
import { LengthField } from "../fields/LengthField.tsx";
import { NumberField } from "../fields/NumberField.tsx";
import { useSession } from "../state/context.ts";
import { usePlanInTurn } from "../state/inTurn.ts";
import { Card } from "./Card.tsx";

export function LineCard() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	const unit = session.units.value;
	const standard = session.standard.value ?? commission;
	const { lines, holes, aim } = commission;
	const used = usePlanInTurn()?.aim ?? null;
	const shown = aim ?? used;
	const setLines = (words: string, part: Partial<Commission["lines"]>, key: string): string | null =>
		session.change(words, (c) => ({ ...c, lines: { ...c.lines, ...part } }), { key });
	const setAim = (words: string, part: Partial<NonNullable<Commission["aim"]>>, key: string): string | null =>
		shown ? session.change(words, (c) => ({ ...c, aim: { ...shown, ...part } }), { key }) : null;
	return (
		<Card title="Drilling" place="lines">
			<Choices
				label="How deep a hole goes"
				value={holes}
				standard={standard.holes}
				options={[
					{ value: "once", words: "once", sentence: "Straight to the stop of the last round: rotary drills." },
					{
						value: "by rounds",
						words: "by rounds",
						sentence: "To each round's own join, sunk again later: hammer action.",
					},
				]}
				onSet={(value) => session.change(`holes ${value}`, (c) => ({ ...c, holes: value }))}
			/>
			<details class="more">
				<summary>lines and aim</summary>
				<NumberField
					label="from the surface normal at most"
					value={lines.cone_deg}
					standard={standard.lines.cone_deg}
					unit="°"
					least={0}
					most={45}
					onSet={(value) => setLines(`cone ${value}°`, { cone_deg: value }, "cone")}
				/>
				<NumberField
					label="lean from square at most"
					value={lines.lean_deg}
					standard={standard.lines.lean_deg}
					unit="°"
					least={0}
					most={45}
					onSet={(value) => setLines(`lean ${value}°`, { lean_deg: value }, "lean")}
				/>
				<LengthField
					label="free outside the stone"
					mm={lines.outside_mm}
					standard={standard.lines.outside_mm}
					most={2000}
					onSet={(mm) => setLines(`${sizeText(mm, unit)} free outside`, { outside_mm: mm }, "outside")}
				/>
				{shown && (
					<>
						<LengthField
							label="mark off by"
							mm={shown.mark_mm}
							most={20}
							onSet={(mm) => setAim(`mark off by ${sizeText(mm, unit)}`, { mark_mm: mm }, "mark")}
						/>
						<NumberField
							label="lean off by"
							value={shown.lean_deg}
							unit="°"
							least={0}
							most={20}
							step={0.1}
							onSet={(value) => setAim(`lean off by ${angleText(value)}`, { lean_deg: value }, "aim lean")}
						/>
						<NumberField
							label="wanders with depth"
							value={Math.round(shown.wander * 1e4) / 100}
							unit="%"
							least={0}
							most={20}
							step={0.1}
							onSet={(value) => setAim(`wander ${shareText(value / 100, 1)}`, { wander: value / 100 }, "wander")}
						/>
						{aim ? (
							<button
								type="button"
								class="word"
								onClick={() => void session.change("aim as usual", (c) => ({ ...c, aim: null }))}
							>
								put back the usual aim
							</button>
						) : (
							<p class="reason">The usual values for what stands on the bench.</p>
						)}
					</>
				)}
			</details>
		</Card>
	);
}
