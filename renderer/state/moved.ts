/** Whether anything has moved: asked again at every change of the log or the plan, and kept for the bench view. */

import { effect, type Signal, signal } from "@preact/signals";
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
	effect(() => {
		const asked = session.commission.value;
		const plan = session.plan.value;
		if (!plan || !asked || asked.log.length === 0) {
			made.value = null;
			return;
		}
		session.askMoved().promise.then(
			(answer) => {
				if (session.plan.value === plan && session.commission.value?.log === asked.log) made.value = answer;
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
