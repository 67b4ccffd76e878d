/** In which unit lengths are shown, on the screens and on the sheets. */

import type { Commission } from "../../core/plan/commission.ts";
import type { LengthUnit } from "../../core/text/length.ts";
import { Select } from "../fields/Choice.tsx";
import { useSession } from "../state/context.ts";

const WORDS: Readonly<Record<LengthUnit, string>> = {
	mm: "millimetres",
	in: "inches, decimal",
	in16: "inches, in sixteenths",
};

export function UnitsChoice() {
	const session = useSession();
	const { units } = (session.commission.value as Commission).sheet;
	return (
		<>
			<Select
				label="lengths in"
				value={units}
				standard={session.standard.value?.sheet.units}
				options={(["mm", "in", "in16"] as const).map((value) => ({ value, words: WORDS[value] }))}
				onSet={(next) =>
					session.change(`lengths in ${WORDS[next]}`, (c) => ({ ...c, sheet: { ...c.sheet, units: next } }))
				}
			/>
			{units === "in16" && (
				<p class="reason">
					Depths are rounded short, so up to a sixteenth more is left. Seats, callipers, allowances and drills that are
					no whole sixteenth stay in decimals.
				</p>
			)}
		</>
	);
}
