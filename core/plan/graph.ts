/** The small explicit graph that joins the stages: a stage is worked out anew only when one of its inputs has changed. */

import type { Job } from "../job.ts";

export interface Graph {
	/**
	 * The stage's value: the kept one while every input is the same as when it was made, else made anew by `run`.
	 * Inputs are compared one by one: results of other stages by identity, choices of the carver by their JSON text
	 * (give `choice(...)`), so that a commission parsed anew with the same values changes nothing.
	 */
	stage<T>(name: string, inputs: readonly unknown[], run: () => Job<T>): Job<T>;
	/** The same stages, only looked at: one that would have to be worked out throws NotStanding instead. */
	looking(): Graph;
	/** Names of the stages that ran since the last call, in order. */
	ran(): string[];
}

/** A stage that was only looked at does not stand for these inputs. */
export class NotStanding extends Error {}

/** A carver's choice as an input of a stage: equal text, equal input. */
export const choice = (value: unknown): string => JSON.stringify(value);

export function createGraph(): Graph {
	const kept = new Map<string, { inputs: readonly unknown[]; value: unknown }>();
	let ran: string[] = [];
	const graph = (looks: boolean): Graph => ({
		*stage<T>(name: string, inputs: readonly unknown[], run: () => Job<T>): Job<T> {
			const before = kept.get(name);
			if (
				before &&
				before.inputs.length === inputs.length &&
				before.inputs.every((input, i) => Object.is(input, inputs[i]))
			)
				return before.value as T;
			if (looks) throw new NotStanding(name);
			const value = yield* run();
			kept.set(name, { inputs, value });
			ran.push(name);
			return value;
		},
		looking: () => graph(true),
		ran() {
			const names = ran;
			ran = [];
			return names;
		},
	});
	return graph(false);
}
