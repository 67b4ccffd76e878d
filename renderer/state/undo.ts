/** Undo and redo in words: a pure history of states, newest last. */

export interface Step<T> {
	/** What the carver did, as it reads after "undo: ", for example "move datum B". */
	readonly words: string;
	/** Steps of one key that follow each other closely count as one, for example the keystrokes of a nudge. */
	readonly key: string;
	/** The state before the step when it lies in the past, after it when it lies in the future. */
	readonly state: T;
	/** ms, any origin */
	readonly at: number;
}

export interface History<T> {
	readonly present: T;
	readonly past: readonly Step<T>[];
	readonly future: readonly Step<T>[];
}

/** Within this time a further step of the same key joins the one before. */
export const JOINS_WITHIN_MS = 1200;
/** States share what did not change, so that even long picked lists keep this affordable. */
const KEPT_STEPS = 300;

export const begin = <T>(present: T): History<T> => ({ present, past: [], future: [] });

/** The history after a step to `next`; what had been undone is gone. */
export function record<T>(history: History<T>, words: string, key: string, next: T, at: number): History<T> {
	if (next === history.present) return history;
	const last = history.past.at(-1);
	const joins = last !== undefined && key !== "" && last.key === key && at - last.at <= JOINS_WITHIN_MS;
	const past = joins
		? [...history.past.slice(0, -1), { ...last, words, at }]
		: [...history.past, { words, key, state: history.present, at }].slice(-KEPT_STEPS);
	return { present: next, past, future: [] };
}

/** One step back; the same history when there is none. */
export function undo<T>(history: History<T>): History<T> {
	const step = history.past.at(-1);
	if (!step) return history;
	return {
		present: step.state,
		past: history.past.slice(0, -1),
		future: [{ ...step, key: "", state: history.present }, ...history.future],
	};
}

/** One step forward; the same history when there is none. */
export function redo<T>(history: History<T>): History<T> {
	const [step, ...rest] = history.future;
	if (!step) return history;
	return {
		present: step.state,
		past: [...history.past, { ...step, key: "", state: history.present }],
		future: rest,
	};
}
