/** Whether anything has moved: asked again at every change of the log or the plan, and kept for the bench view. */

import { computed, effect, type Signal, signal, untracked } from "@preact/signals";
import { Cancelled } from "../jobs/jobClient.ts";
import type { MovedShown } from "../jobs/shown.ts";
import type { Session } from "./session.ts";

const kept = new WeakMap<Session, Signal<MovedShown | null>>();

/** null while no place was read again. */
export function movedOf(session: Session): Signal<MovedShown | null> {
	const found = kept.get(session);
	if (found) return found;
	const made: Signal<MovedShown | null> = signal(null);
	kept.set(session, made);
	// Every change of the commission gives it a new log: only what stands in it counts.
	const log = computed(() => JSON.stringify(session.commission.value?.log ?? []));
	effect(() => {
		const asked = log.value;
		const plan = session.plan.value;
		if (!plan || asked === "[]") {
			made.value = null;
			return;
		}
		untracked(session.askMoved).promise.then(
			(answer) => {
				if (session.plan.value === plan && log.value === asked) made.value = answer;
			},
			(trouble: unknown) => {
				// A plan that is being worked out again brings the question up once more.
				if (!(trouble instanceof Cancelled)) made.value = null;
			},
		);
	});
	return made;
}

/** By number of a point: how much farther out of the stone its stop must be set, mm. */
export const fartherOf = (moved: MovedShown | null): ReadonlyMap<number, number> =>
	new Map(moved?.verdict.answer === "moved" ? moved.farther : []);
