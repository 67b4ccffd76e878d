/** Mending the scan, each as a choice; the file itself is never touched. */

import type { Commission } from "../../core/plan/commission.ts";
import type { MendStep } from "../../core/scan/mend.ts";
import { Tick } from "../fields/Choice.tsx";
import { LengthField } from "../fields/LengthField.tsx";
import { useSession } from "../state/context.ts";
import { countText } from "../words/health.ts";
import { Card } from "./Card.tsx";

type Mend = Commission["scan"]["mend"];
type MendTick = { [K in keyof Mend]: Mend[K] extends boolean ? K : never }[keyof Mend];

const TICKS: readonly { key: MendTick; label: string; sentence: string; act: string }[] = [
	{
		key: "keepLargestShell",
		label: "keep the largest piece alone",
		sentence: "Crumbs and whatever stood beside the figure are left out.",
		act: "keep the largest piece",
	},
	{
		key: "dropDoubled",
		label: "drop doubled triangles",
		sentence: "Of triangles on the same three corners one stays.",
		act: "drop doubled triangles",
	},
	{
		key: "dropArealess",
		label: "drop triangles without area",
		sentence: "They carry no surface and spoil the directions around them.",
		act: "drop triangles without area",
	},
	{
		key: "faceOutward",
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
	const steps = session.answers.value?.model?.mended ?? [];
	const change = (words: string, part: Partial<Mend>): string | null =>
		session.change(words, (c) => ({ ...c, scan: { ...c.scan, mend: { ...c.scan.mend, ...part } } }));
	return (
		<Card title="Mend the scan">
			<p class="reason">The file stays as it is; what is chosen here is done again each time it is opened.</p>
			{TICKS.map(({ key, label, sentence, act }) => (
				<Tick
					key={key}
					label={label}
					sentence={sentence}
					value={mend[key]}
					standard={false}
					onSet={(on) => change(on ? act : `no longer ${act}`, { [key]: on })}
				/>
			))}
			<LengthField
				label="join vertices closer than"
				mm={mend.weldWithin_mm}
				standard={0}
				most={5}
				digits={2}
				onSet={(mm) => change("join near vertices", { weldWithin_mm: mm })}
			/>
			<LengthField
				label="close holes with a rim up to"
				mm={mend.closeHolesUpTo_mm}
				standard={0}
				most={10000}
				onSet={(mm) => change("close holes", { closeHolesUpTo_mm: mm })}
			/>
			{steps.length > 0 && (
				<ul>
					{steps.map((step) => (
						<li class="reason" key={step.choice}>
							{WHAT[step.choice]}: {countText(step.before)} before, {countText(step.after)} after
						</li>
					))}
				</ul>
			)}
		</Card>
	);
}
