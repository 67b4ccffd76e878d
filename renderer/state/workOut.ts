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
	const { commission, answers, mesh, standing, thickness, maps, stale, workTrouble } = state;
	let dropRework: (() => void) | null = null;

	const drop = (): void => {
		dropRework?.();
		dropRework = null;
	};

	const now = (): void => {
		drop();
		const asked = commission.value;
		if (!asked || !state.scan.value) return;
		stop();
		stale.value = true;
		// The model stands on the banker long before everything about it has been worked out.
		const worked = run("standUp", { commission: asked }, "planning").then((stood) => {
			if (stood.mesh !== undefined)
				batch(() => {
					mesh.value = stood.mesh ?? null;
					standing.value = stood.standing ?? null;
					thickness.value = null;
					maps.value = null;
				});
			return run("work", { commission: asked }, "planning");
		});
		worked.then(
			(output) => {
				batch(() => {
					if (output.maps !== undefined) maps.value = output.maps;
					answers.value = output.answers;
					workTrouble.value = null;
					stale.value = !commission.value || !logAlone(commission.value, asked);
				});
				if (output.answers.model && !stale.value) measureThickness(asked);
			},
			(trouble: unknown) => {
				if (trouble instanceof Cancelled) return;
				workTrouble.value = troubleWords(trouble);
			},
		);
	};

	/** How thick the model is everywhere is looked at, but nothing waits for it: a failure leaves only the map out. */
	const measureThickness = (asked: Commission): void => {
		run("thickness", { commission: asked }, "planning").then(
			(found) => {
				if (found !== undefined) thickness.value = found;
			},
			(trouble: unknown) => {
				if (!(trouble instanceof Cancelled)) workTrouble.value = troubleWords(trouble);
			},
		);
	};

	return {
		now,
		drop,
		changed(before) {
			if (commission.value && logAlone(before, commission.value)) return;
			stale.value = true;
			// A plan for inputs that are gone is not worth finishing; opening and drawing go on.
			if (working.value?.what === "planning") stop();
			drop();
			dropRework = tools.after(REWORK_AFTER_MS, now);
		},
	};
}
