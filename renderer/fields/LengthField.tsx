/** A length that is typed: in either unit, with a comma or a point, as a fraction of an inch. */

import { useId } from "preact/hooks";
import { type LengthUnit, lengthNumber, lengthText, parseLength } from "../../core/text/format.ts";
import { useSession } from "../state/context.ts";
import { PutBack } from "./PutBack.tsx";
import { readTyped, useWritten } from "./written.ts";

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

/** The bare input, for where a label stands elsewhere. */
export function LengthInput(props: LengthProps & { readonly id?: string; readonly describedBy?: string }) {
	const unit: LengthUnit = useSession().units.value;
	const { label, mm, least = 0, most = 20000, digits = 1, empty = "", onSet } = props;
	const written = useWritten({
		shown: mm === null ? "" : lengthNumber(mm, unit, digits),
		exact: mm === null ? "" : exactLength(mm, unit),
		step: unit === "mm" ? 1 : 25.4 / 16,
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
	});
	return (
		<>
			<input
				id={props.id}
				type="text"
				inputMode="decimal"
				autocomplete="off"
				spellcheck={false}
				aria-label={props.id ? undefined : `${label}, ${unit}`}
				aria-invalid={written.trouble !== null}
				aria-describedby={written.trouble === null ? props.describedBy : written.troubleId}
				placeholder={empty}
				title={mm === null ? undefined : `${Math.round(mm * 1e4) / 1e4} mm`}
				{...written.handlers}
			/>
			{written.trouble !== null && (
				<span class="trouble" role="alert" id={written.troubleId}>
					{written.trouble}
				</span>
			)}
		</>
	);
}

const exactLength = (mm: number, unit: LengthUnit): string =>
	String(Math.round((unit === "mm" ? mm : mm / 25.4) * 1e4) / 1e4);

export function LengthField(props: LengthProps) {
	const unit = useSession().units.value;
	const { label, mm, standard, digits = 1 } = props;
	const id = `length-${useId()}`;
	return (
		<div class="field">
			{standard !== undefined && mm !== null && Math.abs(mm - standard) > 1e-9 && (
				<PutBack
					label={label}
					standard={lengthText(standard, unit, digits)}
					onPutBack={() => void props.onSet(standard)}
				/>
			)}
			<label for={id}>{label}</label>
			<span class="written">
				<LengthInput {...props} id={id} />
				<span class="unit" aria-hidden="true">
					{unit}
				</span>
			</span>
		</div>
	);
}
