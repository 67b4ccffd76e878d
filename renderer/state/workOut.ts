/** Works the answers out: after a scan was opened, and a little after the last of a few changes. */

import { batch } from "@preact/signals";
import type { Commission } from "../../core/plan/commission.ts";
import { Cancelled } from "../jobs/jobClient.ts";
import type { Running } from "./running.ts";
import type { SessionTools } from "./sessionTools.ts";
import { troubleWords } from "./troubleWords.ts";
import type { WindowState } from "./windowState.ts";

/** What the window asks after the last keystroke before the planner starts again. */
const REWORK_AFTER_MS = 220;

export interface WorkOut {
	/** At once. */
	now(): void;
	/** What was entered differs from `before`. */
	changed(before: Commission): void;
	/** A change that waits for its turn does not get it. */
	drop(): void;
}

/** What is done at the bench is kept, but changes no answer. */
const logAlone = (before: Commission, next: Commission): boolean =>
	JSON.stringify({ ...before, log: [] }) === JSON.stringify({ ...next, log: [] });

export function createWorkOut(state: WindowState, { run, stop, working }: Running, tools: SessionTools): WorkOut {
	const { commission, answers, stale, workTrouble, holds } = state;
	let dropRework: (() => void) | null = null;

	const drop = (): void => {
		dropRework?.();
		dropRework = null;
	};

	const fail = (trouble: unknown): void => {
		if (!(trouble instanceof Cancelled)) workTrouble.value = troubleWords(trouble);
	};

	async function workOut(asked: Commission): Promise<void> {
		// The model stands on the banker long before everything about it has been worked out.
		state.takeStood(await run("standUp", { commission: asked, holds: holds() }, "planning"));
		await run("work", { commission: asked, holds: holds() }, "planning", state.takeAnswer);
		batch(() => {
			workTrouble.value = null;
			stale.value = !commission.value || !logAlone(commission.value, asked);
		});
		// How thick the model is everywhere is looked at, but nothing waits for it: a failure leaves only the map out.
		if (answers.value?.model && !stale.value)
			state.takeThickness(await run("thickness", { commission: asked, holds: holds() }, "planning"));
	}

	/** Marks every answer as old, until the worker has said which of them the change leaves as they are. */
	const markOld = (): void => {
		const asked = commission.value;
		batch(() => {
			stale.value = true;
			state.awaitAll();
		});
		if (!asked || !state.scan.value) return;
		tools.jobs.run("stillStanding", { commission: asked, holds: holds() }).promise.then(
			(names) => {
				if (commission.value === asked && stale.value) state.stand(names);
			},
			// They stay marked until they have been worked out.
			() => {},
		);
	};

	const now = (): void => {
		drop();
		const asked = commission.value;
		if (!asked || !state.scan.value) return;
		stop();
		stale.value = true;
		workOut(asked).catch(fail);
	};

	return {
		now,
		drop,
		changed(before) {
			if (commission.value && logAlone(before, commission.value)) return;
			markOld();
			// A plan for inputs that are gone is not worth finishing; opening and drawing go on.
			if (working.value?.what === "planning") stop();
			drop();
			dropRework = tools.after(REWORK_AFTER_MS, now);
		},
	};
}
