/** A length that is typed: in either unit, with a comma or a point, as a fraction of an inch. */

import { type LengthUnit, lengthNumber, lengthText, parseLength } from "../../core/text/format.ts";
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

const exactLength = (mm: number, unit: LengthUnit): string =>
	String(Math.round((unit === "mm" ? mm : mm / 25.4) * 1e4) / 1e4);

/** A sixteenth of an inch is what a rule shows. */
const STEP_MM: Readonly<Record<LengthUnit, number>> = { mm: 1, in: 25.4 / 16 };

function writtenLength(props: LengthProps, unit: LengthUnit): WrittenProps {
	const { label, mm, standard, least = 0, most = 20000, digits = 1, empty, onSet } = props;
	const changed = standard !== undefined && mm !== null && Math.abs(mm - standard) > 1e-9;
	return {
		label,
		unit,
		empty,
		shown: mm === null ? "" : lengthNumber(mm, unit, digits),
		exact: mm === null ? "" : exactLength(mm, unit),
		inFull: mm === null ? undefined : `${exactLength(mm, "mm")} mm`,
		step: STEP_MM[unit],
		value: mm,
		read: (text) =>
			readTyped(text, parseLength(text, unit), {
				label,
				kind: unit === "mm" ? "a length, such as 120, 12 cm or 4 3/4 in" : "a length, such as 4.75, 4 3/4 or 120 mm",
				least,
				most,
				say: (value) => lengthText(value, unit, digits),
			}),
		onSet,
		putBack: changed ? { standard: lengthText(standard, unit, digits), put: () => void onSet(standard) } : undefined,
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
