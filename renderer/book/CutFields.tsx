/** Where a cut looks and how far it stays off: what the carver changes of it. */

import type { Vec3 } from "../../core/vector.ts";
import { LengthField } from "../fields/LengthField.tsx";
import { NumberField } from "../fields/NumberField.tsx";
import { anglesOf, normalAt } from "../state/cuts.ts";

interface CutFieldsProps {
	readonly normal: Vec3;
	/** Beyond what must stay, mm. */
	readonly spare: number;
	onMove(normal: Vec3, spare: number): string | null;
}

export function CutFields({ normal, spare, onMove }: CutFieldsProps) {
	const { turn, rise } = anglesOf(normal);
	return (
		<>
			<NumberField
				label="looks round to (front 0, right 90)"
				value={turn}
				unit="°"
				least={-180}
				most={180}
				onSet={(degrees) => onMove(normalAt(degrees, rise), spare)}
			/>
			<NumberField
				label="looks up by"
				value={rise}
				unit="°"
				least={-89}
				most={89}
				onSet={(degrees) => onMove(normalAt(turn, degrees), spare)}
			/>
			<LengthField label="more than must stay" mm={spare} least={0} most={2000} onSet={(mm) => onMove(normal, mm)} />
		</>
	);
}
