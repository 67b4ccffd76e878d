/** What is counted into the fit besides the margins: holding foot, a stone out of true, breaks and offcut's faces. */

import type { Commission } from "../../core/plan/commission.ts";
import { sentenceIn, sizeText } from "../../core/text/format.ts";
import { LengthField } from "../fields/LengthField.tsx";
import { useSession } from "../state/context.ts";
import { Card } from "./Card.tsx";
import { withStone } from "./withStone.ts";

const ENTRIES = [
	{
		key: "holdingFoot_mm",
		label: "holding foot",
		most: 1000,
		why: "Extra stone under the foot, cut off last; 50 to 80 mm is usual.",
	},
	{
		key: "outOfTrue_mm",
		label: "out of true",
		most: 200,
		why: "Taken off each pair of sides; 5 mm is usual for a sawn block.",
	},
	{
		key: "otherMargin_mm",
		label: "margin at breaks",
		most: 1000,
		why: "At broken corners, and at the faces of an offcut.",
	},
] as const;

export function HoldCard() {
	const session = useSession();
	const unit = session.units.value;
	const { stone } = session.commission.value as Commission;
	return (
		<Card title="Foot, trueness, breaks">
			{ENTRIES.map(({ key, label, most, why }) => (
				<div key={key}>
					<LengthField
						label={label}
						mm={stone[key]}
						standard={session.standard.value?.stone[key]}
						most={most}
						onSet={(mm) =>
							session.change(`${label} ${sizeText(mm, unit)}`, (c) => withStone(c, { [key]: mm }), { key: label })
						}
					/>
					<p class="reason">{sentenceIn(unit, why)}</p>
				</div>
			))}
		</Card>
	);
}
