/** One typed number on its line: label, the stroke that puts a default back, the field, its unit, and what is wrong with it. */

import type { JSX } from "preact";
import { useId } from "preact/hooks";
import { PutBack } from "./PutBack.tsx";
import { useWritten, type WrittenOptions } from "./written.ts";

export interface WrittenProps extends WrittenOptions {
	readonly label: string;
	readonly unit: string;
	readonly empty?: string;
	/** On hover: the value in full. */
	readonly inFull?: string;
	/** The default in words and how to put it back; left out where it stands already or there is none. */
	readonly putBack?: { readonly standard: string; put(): void };
}

/** Input and message by themselves, for where the label stands elsewhere. */
export function useWrittenInput(
	props: WrittenProps,
	id: string,
	describedBy?: string,
): { readonly input: JSX.Element; readonly trouble: JSX.Element | null } {
	const written = useWritten(props);
	return {
		input: (
			<input
				id={id}
				type="text"
				inputMode="decimal"
				autocomplete="off"
				spellcheck={false}
				aria-invalid={written.trouble !== null}
				aria-describedby={written.trouble === null ? describedBy : written.troubleId}
				placeholder={props.empty}
				title={props.inFull}
				{...written.handlers}
			/>
		),
		trouble:
			written.trouble === null ? null : (
				<p class="trouble" role="alert" id={written.troubleId}>
					{written.trouble}
				</p>
			),
	};
}

export function WrittenField(props: WrittenProps) {
	const { label, unit, putBack } = props;
	const id = `written-${useId()}`;
	const { input, trouble } = useWrittenInput(props, id);
	return (
		<div class="field">
			{putBack && <PutBack label={label} standard={putBack.standard} onPutBack={putBack.put} />}
			<label for={id}>{label}</label>
			<span class="written">
				{input}
				<span class="unit" aria-hidden="true">
					{unit}
				</span>
			</span>
			{trouble}
		</div>
	);
}
