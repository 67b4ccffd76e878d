/** Mending the scan, each as a choice; the file itself is never touched. */

import type { Commission } from "../../core/plan/commission.ts";
import type { MendStep } from "../../core/scan/mend.ts";
import { Tick } from "../fields/Choice.tsx";
import { LengthField } from "../fields/LengthField.tsx";
import { useSession } from "../state/context.ts";
import { setTrouble } from "../state/ui.ts";
import { countText } from "../words/health.ts";
import { Card } from "./Card.tsx";
import { ShellChoice } from "./ShellChoice.tsx";

type Mend = Commission["scan"]["mend"];
type MendTick = { [K in keyof Mend]: Mend[K] extends boolean ? K : never }[keyof Mend];

const TICKS: readonly { key: MendTick; step: MendStep["choice"]; label: string; sentence: string; act: string }[] = [
	{
		key: "dropDoubled",
		step: "dropDoubled",
		label: "drop doubled triangles",
		sentence: "Of triangles on the same three corners one stays; more only where the surface would open without them.",
		act: "drop doubled triangles",
	},
	{
		key: "dropArealess",
		step: "dropArealess",
		label: "drop triangles without area",
		sentence: "They carry no surface and spoil the directions around them.",
		act: "drop triangles without area",
	},
	{
		key: "faceOutward",
		step: "faceOutward",
		label: "face everything outwards",
		sentence: "Drill lines follow which way the surface faces.",
		act: "face the surface outwards",
	},
];

const WHAT: Readonly<Record<MendStep["choice"], string>> = {
	weldWithin: "vertices",
	dropArealess: "triangles without area",
	dropDoubled: "doubled triangles",
	keepShells: "pieces",
	faceOutward: "triangles facing the wrong way",
	closeHolesUpTo: "holes and rims",
};

export function MendCard() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	const { mend } = commission.scan;
	const standing = session.standing.value;
	const steps = standing?.model.mended ?? [];
	const change = (words: string, part: Partial<Mend>): string | null =>
		session.change(words, (c) => {
			// Pieces are counted after these, and may be others then: a choice among them would mean something else.
			const recounts = "weldWithin_mm" in part || "dropDoubled" in part || "dropArealess" in part;
			const keepShells = recounts ? null : c.scan.mend.keepShells;
			return { ...c, scan: { ...c.scan, mend: { ...c.scan.mend, keepShells, ...part } } };
		});
	return (
		<Card title="Mend the scan" place="mend">
			<p class="reason">The file stays as it is; what is chosen here is done again each time it is opened.</p>
			{TICKS.map(({ key, step, label, sentence, act }) => (
				<div key={key}>
					<Tick
						label={label}
						sentence={sentence}
						value={mend[key]}
						standard={false}
						onSet={(on) => setTrouble("mend", change(on ? act : `no longer ${act}`, { [key]: on }))}
					/>
					<Done steps={steps} step={step} />
				</div>
			))}
			<LengthField
				label="join vertices closer than"
				mm={mend.weldWithin_mm}
				standard={0}
				most={5}
				digits={2}
				onSet={(mm) => change("join near vertices", { weldWithin_mm: mm })}
			/>
			<Done steps={steps} step="weldWithin" />
			<LengthField
				label="close holes with a rim up to"
				mm={mend.closeHolesUpTo_mm}
				standard={0}
				most={10000}
				onSet={(mm) => change("close holes", { closeHolesUpTo_mm: mm })}
			/>
			<Done steps={steps} step="closeHolesUpTo" />
			<ShellChoice
				change={(words, part) => {
					setTrouble("mend", change(words, part));
					return null;
				}}
			/>
			<Done steps={steps} step="keepShells" />
		</Card>
	);
}

/** What a choice did, in its own count and in triangles. */
function Done({ steps, step }: { steps: readonly MendStep[]; step: MendStep["choice"] }) {
	const done = steps.find(({ choice }) => choice === step);
	if (!done) return null;
	const { before, after, trianglesBefore, trianglesAfter } = done;
	return (
		<p class="reason done" data-mended={step}>
			{WHAT[step]}: {countText(before)} before, {countText(after)} after
			{trianglesBefore !== trianglesAfter &&
				`; triangles: ${countText(trianglesBefore)} before, ${countText(trianglesAfter)} after`}
		</p>
	);
}
