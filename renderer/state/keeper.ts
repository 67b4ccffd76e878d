/** Keeps the commission on every change, within a second, and tries again for as long as it cannot. */

import { type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { Commission } from "../../core/plan/commission.ts";
import { BridgeTrouble } from "../bridge.ts";
import type { SessionTools } from "./sessionTools.ts";

export interface Kept {
	readonly state: "kept" | "keeping" | "not kept";
	/** Why it could not be kept; empty otherwise. */
	readonly trouble: string;
}

/** Where a commission is kept, and the leave to read its scan, if there is one. */
export interface KeptAs {
	readonly id: string;
	readonly token: string | null;
	/** Version of the kept text that this window began with; null for a commission that was not kept before. */
	readonly seen?: string | null;
}

const KEEP_AFTER_MS = 400;
/** Work at risk while changes follow each other without a pause. */
const KEEP_AT_LEAST_MS = 700;
const KEEP_AGAIN_MS = 5000;

export type Keeper = ReturnType<typeof createKeeper>;

export function createKeeper(
	tools: Pick<SessionTools, "call" | "after" | "now" | "newId">,
	commission: ReadonlySignal<Commission | null>,
) {
	const kept: Signal<Kept> = signal({ state: "kept", trouble: "" });
	/** Why the commission is kept apart from the one that was opened; null otherwise. */
	const apart: Signal<string | null> = signal(null);
	/** This window: another one on the same commission has another name. */
	const writer = tools.newId();
	let as: KeptAs | null = null;
	/** Leave to read the scans of stones that were opened, by their fingerprints. */
	const stoneTokens = new Map<string, string>();
	let drop: (() => void) | null = null;
	/** When the oldest change that is not kept yet was made; null when there is none. */
	let dueSince: number | null = null;

	const now = (): void => {
		drop?.();
		drop = null;
		dueSince = null;
		const asked = commission.value;
		if (!asked || !as) return;
		kept.value = { state: "keeping", trouble: "" };
		const { id, token, seen = null } = as;
		const stoneToken = stoneTokens.get(asked.stone.scan?.sha256 ?? "") ?? null;
		tools.call("keepCommission", { id, text: JSON.stringify(asked), scanToken: token, stoneToken, writer, seen }).then(
			() => {
				if (commission.value === asked || commission.value === null) kept.value = { state: "kept", trouble: "" };
			},
			(trouble: unknown) => {
				const words = trouble instanceof Error ? trouble.message : String(trouble);
				if (trouble instanceof BridgeTrouble && trouble.code === "files.changedMeanwhile") {
					// Neither side is lost: what stands here becomes a commission of its own.
					if (as?.id === id) as = { id: tools.newId(), token, seen: null };
					apart.value = words;
					now();
					return;
				}
				kept.value = { state: "not kept", trouble: words };
				drop ??= tools.after(KEEP_AGAIN_MS, now);
			},
		);
	};

	return {
		kept,
		apart,
		id: () => as?.id ?? "",
		seen: () => as?.seen ?? null,
		token: () => as?.token ?? null,
		/** From now on the commission is kept there. */
		file(next: KeptAs): void {
			as = next;
			apart.value = null;
		},
		/** The scan of a stone that a commission may name from now on. */
		stone(sha256: string, token: string | null): void {
			if (token !== null) stoneTokens.set(sha256, token);
		},
		now,
		/** After the last of a few changes, or soon after the first of many. */
		soon(): void {
			kept.value = { state: "keeping", trouble: "" };
			drop?.();
			dueSince ??= tools.now();
			const wait = Math.max(0, Math.min(KEEP_AFTER_MS, dueSince + KEEP_AT_LEAST_MS - tools.now()));
			drop = tools.after(wait, now);
		},
		/** For the moment before the window goes. */
		nowIfDue(): void {
			if (drop) now();
		},
	};
}
