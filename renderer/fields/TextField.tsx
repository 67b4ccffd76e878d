/** Words that are typed. */

import { useSignal } from "@preact/signals";
import { useId } from "preact/hooks";
import { PutBack } from "./PutBack.tsx";

export function TextField(props: {
	readonly label: string;
	readonly value: string;
	readonly standard?: string;
	readonly most: number;
	readonly mayBeEmpty?: boolean;
	readonly type?: "text" | "date";
	onSet(value: string): string | null;
}) {
	const { label, value, standard, most, mayBeEmpty = false, type = "text", onSet } = props;
	const id = `text-${useId()}`;
	const draft = useSignal<string | null>(null);
	const trouble = useSignal<string | null>(null);
	const take = (): void => {
		if (draft.value === null) return;
		const text = draft.value.trim();
		trouble.value = text === "" && !mayBeEmpty ? `${label} cannot be empty.` : onSet(text);
		if (trouble.value === null) draft.value = null;
	};
	const handlers = {
		id,
		value: draft.value ?? value,
		"data-writing": draft.value === null ? undefined : "yes",
		"aria-invalid": trouble.value !== null,
		onInput: (event: Event) => {
			draft.value = (event.currentTarget as HTMLInputElement).value;
		},
		onChange: take,
		onBlur: take,
	};
	return (
		<div class="field">
			{standard !== undefined && value !== standard && (
				<PutBack label={label} standard={standard || "none"} onPutBack={() => void onSet(standard)} />
			)}
			<label for={id}>{label}</label>
			<span class="written text">
				{type === "date" ? <input type="date" {...handlers} /> : <input type="text" maxLength={most} {...handlers} />}
			</span>
			{trouble.value !== null && (
				<p class="trouble" role="alert">
					{trouble.value}
				</p>
			)}
		</div>
	);
}
