/** Keeps the commission on every change, within half a second, and tries again for as long as it cannot. */

import { type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { Commission } from "../../core/plan/commission.ts";
import type { SessionTools } from "./session.ts";

export interface Kept {
	readonly state: "kept" | "keeping" | "not kept";
	/** Why it could not be kept; empty otherwise. */
	readonly trouble: string;
}

/** Where a commission is kept, and the leave to read its scan, if there is one. */
export interface KeptAs {
	readonly id: string;
	readonly token: string | null;
}

const KEEP_AFTER_MS = 400;
const KEEP_AGAIN_MS = 5000;

export function createKeeper(
	tools: Pick<SessionTools, "call" | "after">,
	commission: ReadonlySignal<Commission | null>,
) {
	const kept: Signal<Kept> = signal({ state: "kept", trouble: "" });
	let as: KeptAs | null = null;
	let drop: (() => void) | null = null;

	const now = (): void => {
		drop?.();
		drop = null;
		const asked = commission.value;
		if (!asked || !as) return;
		kept.value = { state: "keeping", trouble: "" };
		tools.call("keepCommission", { id: as.id, text: JSON.stringify(asked), scanToken: as.token }).then(
			() => {
				if (commission.value === asked) kept.value = { state: "kept", trouble: "" };
			},
			(trouble: unknown) => {
				kept.value = { state: "not kept", trouble: trouble instanceof Error ? trouble.message : String(trouble) };
				drop ??= tools.after(KEEP_AGAIN_MS, now);
			},
		);
	};

	return {
		kept,
		id: () => as?.id ?? "",
		/** From now on the commission is kept there. */
		file(next: KeptAs): void {
			as = next;
		},
		now,
		/** After the last of a few changes. */
		soon(): void {
			kept.value = { state: "keeping", trouble: "" };
			drop?.();
			drop = tools.after(KEEP_AFTER_MS, now);
		},
		/** For the moment before the window goes. */
		nowIfDue(): void {
			if (drop) now();
		},
	};
}
