/**
 * One window's work: the open scan, the commission with its history, and the answers that the worker gives to them. The last
 * good answer stays until the new one is there; a scan that is refused leaves the one before it in place.
 */

import { type Commission, commissionSchema } from "../../core/plan/commission.ts";
import { changedHeld } from "./holdFast.ts";
import { createKeeper } from "./keeper.ts";
import { createOpenDocument } from "./openDocument.ts";
import { createOpenings } from "./openings.ts";
import { createQuestions } from "./questions.ts";
import { createRunning } from "./running.ts";
import type { SessionTools } from "./sessionTools.ts";
import { type History, record, redo, undo } from "./undo.ts";
import { createWindowState } from "./windowState.ts";
import { createWorkOut } from "./workOut.ts";

export type Session = ReturnType<typeof createSession>;

export interface ChangeOptions {
	/** Steps of one key that follow each other closely count as one. */
	readonly key?: string;
	/** The carver himself gives the figure another place in the stone, whatever is drilled. */
	readonly places?: boolean;
}

export function createSession(tools: SessionTools) {
	const state = createWindowState();
	const { history, commission, stale, plan } = state;
	const keeper = createKeeper(tools, commission);
	const running = createRunning(tools.jobs);
	const workOut = createWorkOut(state, running, tools);

	const changed = (before: Commission): void => {
		workOut.changed(before);
		keeper.soon();
	};

	/** Changes the commission; answers the reason when the change is refused, and then nothing has changed. */
	function change(
		what: string,
		recipe: (commission: Commission) => Commission,
		options: ChangeOptions = {},
	): string | null {
		const before = history.value;
		if (!before) return "Open a scan first.";
		const held = changedHeld(before.present, recipe, {
			plan: stale.value ? null : plan.value,
			places: options.places,
		});
		if (typeof held === "string") return held;
		const parsed = commissionSchema.safeParse(held);
		if (!parsed.success) {
			const issue = parsed.error.issues[0];
			return `${issue.path.join(" ") || "the commission"}: ${issue.message}`;
		}
		if (JSON.stringify(parsed.data) === JSON.stringify(before.present)) return null;
		history.value = record(before, what, options.key ?? "", parsed.data, tools.now());
		changed(before.present);
		return null;
	}

	const step = (how: (h: History<Commission>) => History<Commission>): void => {
		const before = history.value;
		if (!before) return;
		const next = how(before);
		if (next === before) return;
		history.value = next;
		changed(before.present);
	};

	const openings = createOpenings({ state, running, workOut, keeper, change }, tools);

	return {
		...state,
		...openings,
		openDocument: createOpenDocument(openings, tools),
		...createQuestions(commission, running, tools.jobs),
		working: running.working,
		cancel: () => running.working.value?.cancel(),
		rework: workOut.now,
		change,
		undo: () => step(undo),
		redo: () => step(redo),
		kept: keeper.kept,
		keptApart: keeper.apart,
		standsAs: keeper.standsAs,
		handOver: keeper.handOver,
		/** Puts down what has not been kept yet; for the moment before the window goes. */
		keepNow: keeper.nowIfDue,
	};
}
