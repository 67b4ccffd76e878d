/** A record whose every key is a signal of its own: whoever reads a key follows that key alone. */

import { batch, type Signal, signal } from "@preact/signals";

export interface ByKey<T extends object> {
	/** Always the same object; each key reads its signal. */
	readonly read: Readonly<T>;
	write(part: Partial<T>): void;
}

export function createByKey<T extends object>(first: T): ByKey<T> {
	const signals = new Map<string, Signal<unknown>>();
	const read = {};
	for (const [key, value] of Object.entries(first)) {
		const one = signal<unknown>(value);
		signals.set(key, one);
		Object.defineProperty(read, key, { enumerable: true, get: () => one.value });
	}
	return {
		read: read as T,
		write: (part) =>
			batch(() => {
				for (const [key, value] of Object.entries(part)) (signals.get(key) as Signal<unknown>).value = value;
			}),
	};
}
