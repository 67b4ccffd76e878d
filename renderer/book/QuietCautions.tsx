/** The cautions of a page's own work, folded away: where the work is, never in its way. */

import { massRangeText } from "../../core/text/format.ts";
import { CAUTION_LAST, type Caution, cautionsFor } from "../../core/text/sheetWords.ts";
import { useSession } from "../state/context.ts";
import type { Session } from "../state/session.ts";

/** The standing cautions, with the masses of this commission; none until the stone is known. */
export function standingCautions(session: Session): Caution[] {
	const stone = session.answers.value?.stone;
	if (!stone) return [];
	const { stoneMass, stoneMassWet: wet, figureMass } = stone;
	return cautionsFor(
		session.commission.value?.stone.kind ?? "",
		massRangeText(...stoneMass),
		figureMass && massRangeText(...figureMass),
		wet && massRangeText(wet[1], wet[1]),
	);
}

/** `about`: their names in `cautionsFor`. */
export function QuietCautions({ about }: { about: readonly string[] }) {
	const cautions = standingCautions(useSession()).filter((one) => about.includes(one.about));
	if (cautions.length === 0) return null;
	return (
		<section class="card">
			<details class="more">
				<summary>Cautions: {cautions.map((one) => one.about.toLowerCase()).join(", ")}</summary>
				{cautions.map(({ about: name, words }) => (
					<p class="reason" key={name}>
						<b>{name}.</b> {words}
					</p>
				))}
				<p class="reason">{CAUTION_LAST}</p>
			</details>
		</section>
	);
}
