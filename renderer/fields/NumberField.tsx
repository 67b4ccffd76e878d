/** A number that is typed, with the word for what it counts. */

import { useId } from "preact/hooks";
import { PutBack } from "./PutBack.tsx";
import { readTyped, useWritten } from "./written.ts";

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
	onSet(value: number): string | null;
}

const plainNumber = (text: string, whole: boolean): number | null => {
	const trimmed = text.trim().replace(",", ".");
	if (!/^-?(\d+(\.\d*)?|\.\d+)$/.test(trimmed)) return null;
	const value = Number(trimmed);
	return whole && !Number.isInteger(value) ? null : value;
};

const said = (value: number): string => String(Math.round(value * 1e6) / 1e6);

export function NumberField(props: NumberProps) {
	const { label, value, standard, unit = "", least, most, whole = false, step = 1, empty, onSet } = props;
	const id = `number-${useId()}`;
	const shown = value === null ? "" : said(value);
	const written = useWritten({
		shown,
		exact: shown,
		step,
		value,
		read: (text) =>
			readTyped(text, plainNumber(text, whole), {
				label,
				kind: whole ? "a whole number" : "a number",
				least,
				most,
				say: (n) => `${said(n)}${unit && ` ${unit}`}`,
			}),
		onSet,
	});
	return (
		<div class="field">
			{standard !== undefined && value !== null && Math.abs(value - standard) > 1e-12 && (
				<PutBack label={label} standard={`${said(standard)} ${unit}`} onPutBack={() => void onSet(standard)} />
			)}
			<label for={id}>{label}</label>
			<span class="written">
				<input
					id={id}
					type="text"
					inputMode="decimal"
					autocomplete="off"
					placeholder={empty}
					aria-invalid={written.trouble !== null}
					aria-describedby={written.trouble === null ? undefined : written.troubleId}
					{...written.handlers}
				/>
				<span class="unit" aria-hidden="true">
					{unit}
				</span>
			</span>
			{written.trouble !== null && (
				<p class="trouble" role="alert" id={written.troubleId}>
					{written.trouble}
				</p>
			)}
		</div>
	);
}
