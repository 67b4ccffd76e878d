/** Points of the last answer never stand on a figure, or in a place, that is not theirs. */

import { expect, test } from "vitest";
import type { AnswerName } from "../../core/plan/answersByStages.ts";
import type { AnswersShown } from "../../renderer/jobs/shown.ts";
import { arePointsOld, arePointsPutAway } from "../../renderer/state/outdated.ts";
import type { Session } from "../../renderer/state/session.ts";
import { page, picking, turnTo } from "../../renderer/state/ui.ts";
import { createWindowState } from "../../renderer/state/windowState.ts";

function told() {
	const state = createWindowState();
	let stamp = 0;
	const answer = (name: AnswerName, answers: Partial<AnswersShown>): void => {
		stamp++;
		const fresh: [string, { stamp: number; value: { answers: Partial<AnswersShown>; maps: object } }] = [
			name,
			{ stamp, value: { answers, maps: {} } },
		];
		state.takeAnswer({ name, page: "points", waits: [], fresh: [fresh] });
	};
	const stand = (): void => {
		stamp++;
		state.takeStood({ stamp, value: { mesh: { stamp }, standing: {} } as never });
	};
	const lie = (x: number): void =>
		answer("stone", { stone: { fit: { placement: { translation: [x, 0, 0] } } } as unknown as AnswersShown["stone"] });
	const plan = (): void => answer("plan", { plan: { points: [] } as unknown as AnswersShown["plan"] });
	const session = state as unknown as Session;
	return { state, stand, lie, plan, old: () => arePointsOld(session), away: () => arePointsPutAway(session) };
}

test("they stay, as old, while the figure stands and lies as it did; else they are put away until the new ones come", () => {
	const { state, stand, lie, plan, old, away } = told();
	expect([old(), away()]).toEqual([false, false]);
	stand();
	lie(5);
	plan();
	expect([old(), away()]).toEqual([false, false]);
	// A round: only points change.
	state.awaitAll();
	lie(5);
	expect([old(), away()]).toEqual([true, false]);
	plan();
	// Another place in the stone.
	state.awaitAll();
	expect([old(), away()]).toEqual([true, false]);
	lie(6);
	expect([old(), away()]).toEqual([true, true]);
	plan();
	expect([old(), away()]).toEqual([false, false]);
	// Another size: away as soon as the new figure stands.
	state.awaitAll();
	stand();
	expect([old(), away()]).toEqual([true, true]);
	lie(6);
	plan();
	expect([old(), away()]).toEqual([false, false]);
});

test("a pick ends when the carver turns the page, and not when he opens the one that is open", () => {
	page.value = "points";
	picking.value = { kind: "point" };
	turnTo("points");
	expect(picking.value).toEqual({ kind: "point" });
	turnTo("stone");
	expect([page.value, picking.value]).toEqual(["stone", null]);
	page.value = "model";
});
