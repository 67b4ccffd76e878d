/** A new plan changes nearly every card of a page: each takes it over in a turn of its own, so that none waits for all. */

import { effect, useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { Plan } from "../../core/plan/planFile.ts";
import { useSession } from "./context.ts";

const waiting = new Set<() => void>();
let isDue = false;

function next(): void {
	const first = waiting.values().next().value;
	if (first) waiting.delete(first);
	isDue = waiting.size > 0;
	if (isDue) setTimeout(next);
	// Whatever waited may have left the page meanwhile.
	first?.();
}

/** Calls back in a turn of the event loop in which nothing else of this kind is done. */
function inTurn(then: () => void): void {
	waiting.add(then);
	if (isDue) return;
	isDue = true;
	setTimeout(next);
}

/** The plan that stands, a moment after it has come; at first at once. */
export function usePlanInTurn(): Plan | null {
	const { plan } = useSession();
	const shown = useSignal(plan.peek());
	useEffect(() => {
		const take = (): void => {
			shown.value = plan.peek();
		};
		const end = effect(() => {
			if (plan.value !== shown.peek()) inTurn(take);
		});
		return () => {
			end();
			waiting.delete(take);
		};
	}, [plan]);
	return shown.value;
}
