/** The unit of a file whose size leaves it in doubt: asked before anything else, and gone once it is answered. */

import type { Commission } from "../../core/plan/commission.ts";
import { UNITS, type Unit } from "../../core/scan/unit.ts";
import { lengthText } from "../../core/text/format.ts";
import { refusalText } from "../../core/text/refusals.ts";
import { useSession } from "../state/context.ts";
import { setTrouble } from "../state/ui.ts";
import { Card } from "./Card.tsx";

export function UnitQuestion() {
	const session = useSession();
	const scan = session.scan.value;
	const commission = session.commission.value as Commission;
	if (!scan || scan.unit.unit !== null || commission.scan.unit !== null) return null;
	const likely = scan.unit.candidates;
	const others = UNITS.filter((unit) => !likely.some((one) => one.unit === unit));
	return (
		<Card title="In which unit is the file?" place="unit">
			<p class="trouble">{refusalText(scan.unit.reason)} Choose the unit that gives the right size.</p>
			<div class="acts">
				{likely.map(({ unit, largestMm }) => (
					<button type="button" class="act" key={unit} onClick={() => setTrouble("unit", readIn(session, unit))}>
						{unit}: {lengthText(largestMm, session.units.value, 0)} at most
					</button>
				))}
				{others.map((unit) => (
					<button type="button" class="word" key={unit} onClick={() => setTrouble("unit", readIn(session, unit))}>
						{unit}
					</button>
				))}
			</div>
		</Card>
	);
}

/** null: as the file's size says, where it says so surely. */
export const readIn = (session: ReturnType<typeof useSession>, unit: Unit, sure: Unit | null = null): string | null =>
	session.change(`read the scan in ${unit}`, (c) => ({
		...c,
		scan: { ...c.scan, unit: unit === sure ? null : unit },
	}));
