/** What was handed to the window under which stamp, so that nothing is handed over twice and nothing that was lost is missed. */

/** By name, the stamps of what the window holds. A job that it gave up may have handed over what never came to it. */
export type Holds = Readonly<Record<string, number>>;

/** Something handed over, to be held under its stamp; null: the window holds it already. */
export type Fresh<T> = { readonly stamp: number; readonly value: T } | null;

export interface Ledger {
	isHeld(name: string, value: unknown, holds: Holds): boolean;
	/** `make` is asked only where the window does not hold `value` yet. */
	fresh<T>(name: string, value: unknown, holds: Holds, make: () => T): Fresh<T>;
}

/** Over all ledgers, so that what belongs to one scan is never taken for another's. */
let lastStamp = 0;

export function createLedger(): Ledger {
	const last = new Map<string, { readonly value: unknown; readonly stamp: number }>();
	const isHeld = (name: string, value: unknown, holds: Holds): boolean => {
		const before = last.get(name);
		return before !== undefined && before.stamp === holds[name] && before.value === value;
	};
	return {
		isHeld,
		fresh(name, value, holds, make) {
			if (isHeld(name, value, holds)) return null;
			const stamp = ++lastStamp;
			last.set(name, { value, stamp });
			return { stamp, value: make() };
		},
	};
}
