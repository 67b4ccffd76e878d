/** What every typed field does: shows the rounded value, the exact one while it is edited, and takes it on Enter or leaving. */

import { useSignal } from "@preact/signals";
import { useId } from "preact/hooks";

/** A typed value, or why it is none. */
export type Typed = { readonly ok: true; readonly value: number } | { readonly ok: false; readonly trouble: string };

export function readTyped(
	text: string,
	value: number | null,
	is: {
		readonly label: string;
		/** As it reads after "not", for example "a number". */
		readonly kind: string;
		readonly least: number;
		readonly most: number;
		say(value: number): string;
	},
): Typed {
	if (value === null) return { ok: false, trouble: `${is.label}: “${text.trim()}” is not ${is.kind}.` };
	if (value < is.least || value > is.most)
		return {
			ok: false,
			trouble: `${is.label}: ${is.say(value)} is outside ${is.say(is.least)} to ${is.say(is.most)}.`,
		};
	return { ok: true, value };
}

export interface WrittenOptions {
	/** What stands in the field when nobody is writing. */
	readonly shown: string;
	/** What stands in it at the start of writing. */
	readonly exact: string;
	/** What an arrow key adds. */
	readonly step: number;
	readonly value: number | null;
	read(text: string): Typed;
	/** Answers why the value is refused, or null. */
	onSet(value: number): string | null;
}

export function useWritten({ shown, exact, step, value, read, onSet }: WrittenOptions) {
	const draft = useSignal<string | null>(null);
	const trouble = useSignal<string | null>(null);
	const troubleId = `trouble-${useId()}`;
	const take = (text: string): void => {
		if (text.trim() === exact || text.trim() === "") {
			draft.value = null;
			trouble.value = null;
			return;
		}
		const typed = read(text);
		const refused = typed.ok ? onSet(typed.value) : typed.trouble;
		trouble.value = refused;
		if (refused === null) draft.value = null;
	};
	return {
		trouble: trouble.value,
		troubleId,
		handlers: {
			value: draft.value ?? shown,
			// Something is written that has not been taken yet: undo is then the field's own.
			"data-writing": draft.value !== null && draft.value !== exact ? "yes" : undefined,
			onFocus: (event: FocusEvent) => {
				if (draft.value === null) draft.value = exact;
				const field = event.currentTarget as HTMLInputElement;
				// After the value has been written out in full.
				queueMicrotask(() => field.select());
			},
			onInput: (event: Event) => {
				draft.value = (event.currentTarget as HTMLInputElement).value;
			},
			onBlur: () => {
				if (draft.value !== null) take(draft.value);
			},
			onKeyDown: (event: KeyboardEvent) => {
				if (event.key === "Enter") {
					take(draft.value ?? shown);
					(event.currentTarget as HTMLInputElement).select();
				} else if (event.key === "Escape" && draft.value !== null) {
					draft.value = exact;
					trouble.value = null;
					event.stopPropagation();
				} else if ((event.key === "ArrowUp" || event.key === "ArrowDown") && value !== null) {
					event.preventDefault();
					const by = step * (event.key === "ArrowUp" ? 1 : -1) * (event.shiftKey ? 10 : 1);
					const refused = onSet(Math.round((value + by) * 1e6) / 1e6);
					trouble.value = refused;
					if (refused === null) draft.value = null;
				}
			},
		},
	};
}
