/** Choices: a few as radio buttons with a sentence each, many as a list to pick from, yes or no as a tick. */

import { useId } from "preact/hooks";
import { PutBack } from "./PutBack.tsx";

export interface Option<T extends string> {
	readonly value: T;
	readonly words: string;
	readonly sentence?: string;
}

interface ChoiceProps<T extends string> {
	readonly label: string;
	readonly value: T | null;
	readonly options: readonly Option<T>[];
	readonly standard?: T;
	onSet(value: T): void;
}

const wordsOf = <T extends string>(options: readonly Option<T>[], value: T): string =>
	options.find((option) => option.value === value)?.words ?? value;

export function Choices<T extends string>(props: ChoiceProps<T> & { readonly inRow?: boolean }) {
	const { label, value, options, standard, onSet, inRow = false } = props;
	const name = `choice-${useId()}`;
	return (
		<fieldset class={inRow ? "choices side-by-side" : "choices"}>
			<legend class="unseen">{label}</legend>
			{standard !== undefined && value !== standard && (
				<PutBack label={label} standard={wordsOf(options, standard)} onPutBack={() => onSet(standard)} />
			)}
			{options.map((option) => (
				<label class="choice" key={option.value}>
					<input type="radio" name={name} checked={option.value === value} onChange={() => onSet(option.value)} />
					<span>
						{inRow ? option.words : <b>{option.words}</b>}
						{option.sentence !== undefined && <small>{option.sentence}</small>}
					</span>
				</label>
			))}
		</fieldset>
	);
}

export function Select<T extends string>(props: ChoiceProps<T>) {
	const { label, value, options, standard, onSet } = props;
	const id = `select-${useId()}`;
	return (
		<div class="field">
			{standard !== undefined && value !== standard && (
				<PutBack label={label} standard={wordsOf(options, standard)} onPutBack={() => onSet(standard)} />
			)}
			<label for={id}>{label}</label>
			<select id={id} value={value ?? ""} onChange={(event) => onSet(event.currentTarget.value as T)}>
				{value === null && <option value="">choose</option>}
				{options.map((option) => (
					<option key={option.value} value={option.value}>
						{option.words}
					</option>
				))}
			</select>
		</div>
	);
}

export function Tick(props: {
	readonly label: string;
	readonly sentence?: string;
	readonly value: boolean;
	readonly standard?: boolean;
	onSet(value: boolean): void;
}) {
	const { label, sentence, value, standard, onSet } = props;
	return (
		<div class="choices">
			{standard !== undefined && value !== standard && (
				<PutBack label={label} standard={standard ? "yes" : "no"} onPutBack={() => onSet(standard)} />
			)}
			<label class="choice">
				<input type="checkbox" checked={value} onChange={(event) => onSet(event.currentTarget.checked)} />
				<span>
					{label}
					{sentence !== undefined && <small>{sentence}</small>}
				</span>
			</label>
		</div>
	);
}
