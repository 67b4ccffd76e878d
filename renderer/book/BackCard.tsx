/** A back for an open shell, so that it has volume, weight and a foot; no point ever stands on it. */

import type { Commission } from "../../core/plan/commission.ts";
import { sizeText } from "../../core/text/format.ts";
import { refusalText } from "../../core/text/refusals.ts";
import { Choices, type Option } from "../fields/Choice.tsx";
import { LengthField } from "../fields/LengthField.tsx";
import { useSession } from "../state/context.ts";
import { setTrouble } from "../state/ui.ts";
import { Card } from "./Card.tsx";

type Back = NonNullable<Commission["scan"]["back"]>;
type Towards = Back["towards"] | "none";

/** How far behind the scan a back stands at first, mm: the stone that is left on such work (common practice, no source). */
const FIRST_DISTANCE = 20;

const OPTIONS: readonly Option<Towards>[] = [
	{ value: "none", words: "no back", sentence: "It stays a shell: no volume, no weight." },
	{ value: "rim", words: "square to its rim", sentence: "The rim is carried straight on, as for a mask or a roundel." },
	{ value: "back", words: "to the back", sentence: "For a relief that stands upright." },
	{ value: "bed", words: "down to the bed", sentence: "For one that lies face up." },
];

const WORDS: Readonly<Record<Towards, string>> = {
	none: "take the back away",
	rim: "back it square to its rim",
	back: "back it to the back",
	bed: "back it down to the bed",
};

export function BackCard() {
	const session = useSession();
	const unit = session.units.value;
	const { back } = (session.commission.value as Commission).scan;
	const standing = session.standing.value;
	const refused = session.answers.value?.waits.find(({ issue }) => issue.code.startsWith("back."));
	// Offered to what is open; one that was given stays in sight.
	if (back === null && (!standing || standing.model.health.openEdges === 0)) return null;
	const set = (words: string, next: Back | null): string | null =>
		session.change(words, (c) => ({ ...c, scan: { ...c.scan, back: next } }));
	return (
		<Card title="Back" place="back">
			<p class="reason">The scan is open. A flat back gives it volume and weight; no point stands on what was added.</p>
			<Choices
				label="back of the shell"
				value={back?.towards ?? "none"}
				standard="none"
				options={OPTIONS}
				onSet={(towards) =>
					setTrouble(
						"back",
						set(
							WORDS[towards],
							towards === "none" ? null : { towards, distance_mm: back?.distance_mm ?? FIRST_DISTANCE },
						),
					)
				}
			/>
			{back && (
				<LengthField
					label="behind its hindmost place"
					mm={back.distance_mm}
					least={0.1}
					most={2000}
					onSet={(mm) => set(`back ${sizeText(mm, unit)} behind`, { ...back, distance_mm: mm })}
				/>
			)}
			{refused && <p class="trouble">{refusalText(refused.issue)}</p>}
		</Card>
	);
}
