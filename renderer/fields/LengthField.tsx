/** A length that is typed: in either unit, with a comma or a point, as a fraction of an inch. */

import {
	type LengthUnit,
	MM_PER,
	parseLength,
	SIXTEENTH_MM,
	sizeNumber,
	sizeText,
	unitWord,
} from "../../core/text/format.ts";
import { useSession } from "../state/context.ts";
import { useWrittenInput, WrittenField, type WrittenProps } from "./WrittenField.tsx";
import { readTyped } from "./written.ts";

interface LengthProps {
	readonly label: string;
	/** null: not given; `empty` is shown instead. */
	readonly mm: number | null;
	/** The default, where there is one that can be put back. */
	readonly standard?: number;
	readonly least?: number;
	readonly most?: number;
	/** Digits of mm. */
	readonly digits?: number;
	readonly empty?: string;
	/** Answers why the value is refused, or null. */
	onSet(mm: number): string | null;
}

const decimals = (mm: number, unit: LengthUnit): string => String(Math.round((mm / MM_PER[unit]) * 1e4) / 1e4);

/** To the ten-thousandth; a whole number of sixteenths as it reads on the rule. */
function exactLength(mm: number, unit: LengthUnit): string {
	const written = decimals(mm, unit);
	if (unit !== "in16") return written;
	const rule = sizeNumber(mm, unit);
	const same = Math.abs((parseLength(rule, unit) as number) - mm) < 1e-6 * MM_PER.in;
	return same ? rule.replace("\u00a0", " ") : written;
}

/** A sixteenth of an inch is what a rule shows. */
const STEP_MM: Readonly<Record<LengthUnit, number>> = { mm: 1, in: SIXTEENTH_MM, in16: SIXTEENTH_MM };

function writtenLength(props: LengthProps, unit: LengthUnit): WrittenProps {
	const { label, mm, standard, least = 0, most = 20000, digits = 1, empty, onSet } = props;
	const changed = standard !== undefined && mm !== null && Math.abs(mm - standard) > 1e-9;
	return {
		label,
		unit: unitWord(unit),
		empty,
		shown: mm === null ? "" : sizeNumber(mm, unit, digits),
		exact: mm === null ? "" : exactLength(mm, unit),
		inFull: mm === null ? undefined : `${decimals(mm, "mm")} mm`,
		step: STEP_MM[unit],
		value: mm,
		read: (text) =>
			readTyped(text, parseLength(text, unit), {
				label,
				kind: unit === "mm" ? "a length, such as 120, 12 cm or 4 3/4 in" : "a length, such as 4.75, 4 3/4 or 120 mm",
				least,
				most,
				say: (value) => sizeText(value, unit, digits),
			}),
		onSet,
		putBack: changed ? { standard: sizeText(standard, unit, digits), put: () => void onSet(standard) } : undefined,
	};
}

export function LengthField(props: LengthProps) {
	return <WrittenField {...writtenLength(props, useSession().units.value)} />;
}

/** Input and message alone; the label is the caller's, for `id`. */
export function LengthInput(props: LengthProps & { readonly id: string; readonly describedBy?: string }) {
	const { input, trouble } = useWrittenInput(
		writtenLength(props, useSession().units.value),
		props.id,
		props.describedBy,
	);
	return (
		<>
			{input}
			{trouble}
		</>
	);
}
