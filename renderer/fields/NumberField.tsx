/** A number that is typed, with the word for what it counts. */

import { WrittenField } from "./WrittenField.tsx";
import { readTyped } from "./written.ts";

interface NumberProps {
	readonly label: string;
	readonly value: number | null;
	readonly standard?: number;
	readonly unit?: string;
	readonly least: number;
	readonly most: number;
	readonly whole?: boolean;
	readonly step?: number;
	readonly empty?: string;
	/** Answers why the value is refused, or null. */
	onSet(value: number): string | null;
}

/** The number that was typed, with point or comma, or null when it is none. */
const plainNumber = (text: string, whole: boolean): number | null => {
	const trimmed = text.trim().replace(",", ".");
	if (!/^-?(\d+(\.\d*)?|\.\d+)$/.test(trimmed)) return null;
	const value = Number(trimmed);
	return whole && !Number.isInteger(value) ? null : value;
};

const said = (value: number): string => String(Math.round(value * 1e6) / 1e6);

export function NumberField(props: NumberProps) {
	const { label, value, standard, unit = "", least, most, whole = false, step = 1, empty, onSet } = props;
	const shown = value === null ? "" : said(value);
	const withUnit = (n: number): string => `${said(n)}${unit && ` ${unit}`}`;
	const changed = standard !== undefined && value !== null && Math.abs(value - standard) > 1e-12;
	return (
		<WrittenField
			label={label}
			unit={unit}
			empty={empty}
			shown={shown}
			exact={shown}
			step={step}
			value={value}
			read={(text) =>
				readTyped(text, plainNumber(text, whole), {
					label,
					kind: whole ? "a whole number" : "a number",
					least,
					most,
					say: withUnit,
				})
			}
			onSet={onSet}
			putBack={changed ? { standard: withUnit(standard), put: () => void onSet(standard) } : undefined}
		/>
	);
}
