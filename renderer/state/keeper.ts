/** Keeps the commission on every change, within a second, and tries again for as long as it cannot. */

import { type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { Commission } from "../../core/plan/commission.ts";
import { BridgeTrouble } from "../bridge.ts";
import type { HeldWork } from "./held.ts";
import type { SessionTools } from "./sessionTools.ts";

export interface Kept {
	readonly state: "kept" | "keeping" | "not kept";
	/** Why it could not be kept, and what becomes of it; empty otherwise. */
	readonly trouble: string;
	/** It is safe, here or there: the window may be closed. */
	readonly safe: boolean;
}

/** Where a commission is kept, and the leave to read its scan, if there is one. */
export interface KeptAs {
	readonly id: string;
	readonly token: string | null;
	/** Version of the kept text that this window began with; null for a commission that was not kept before. */
	readonly seen?: string | null;
}

const KEEP_AFTER_MS = 300;
/** Work at risk while changes follow each other without a pause; the rest of the second is for the disk. */
const KEEP_AT_LEAST_MS = 500;
const KEEP_AGAIN_MS = 4000;

const KEPT: Kept = { state: "kept", trouble: "", safe: true };
const KEEPING: Kept = { state: "keeping", trouble: "", safe: true };
const HELD = "Until then your browser holds it: the next window at this address hands it over.";
const NOT_HELD = "Your browser does not hold it either: save it as a file before you close this window.";

const wasChanged = (trouble: unknown): boolean =>
	trouble instanceof BridgeTrouble && trouble.code === "files.changedMeanwhile";

export type KeeperTools = Pick<SessionTools, "call" | "after" | "now" | "newId" | "fingerprint" | "held">;

export type Keeper = ReturnType<typeof createKeeper>;

export function createKeeper(tools: KeeperTools, commission: ReadonlySignal<Commission | null>) {
	const kept: Signal<Kept> = signal(KEPT);
	/** Why the commission is kept apart from the one that was opened; null otherwise. */
	const apart: Signal<string | null> = signal(null);
	/** Id under which the commission stands on the disk; null as long as it does not. */
	const standsAs: Signal<string | null> = signal(null);
	/** This window: another one on the same commission has another name. */
	const writer = tools.newId();
	let as: KeptAs | null = null;
	/** Versions that may stand there: what the window began with or knows to be kept, and what it has sent since. */
	let seen: string[] = [];
	/** Leave to read the scans of stones that were opened, by their fingerprints. */
	const stoneTokens = new Map<string, string>();
	let drop: (() => void) | null = null;
	/** When the oldest change that is not kept yet was made; null when there is none. */
	let dueSince: number | null = null;
	/** What is under way: one text at a time, so that a slow disk gets the last and not all. */
	let sending: KeptAs | null = null;
	let wantsMore = false;
	/** Some text of this window is held by the browser, so far as is known. */
	let holds = false;
	tools.held.live(writer);

	const idle = (): void => {
		drop?.();
		drop = null;
		dueSince = null;
	};
	const later = (ms: number): void => {
		drop?.();
		drop = tools.after(ms, now);
	};

	async function hold(work: HeldWork, words: string): Promise<void> {
		holds = true;
		const safe = await tools.held.put(work).then(
			() => true,
			() => false,
		);
		if (as?.id === work.id) kept.value = { state: "not kept", trouble: `${words} ${safe ? HELD : NOT_HELD}`, safe };
	}

	/** Keeps what stands here now. `leaving`: at once, because the window goes. */
	async function send(asked: Commission, to: KeptAs, leaving: boolean): Promise<void> {
		const text = JSON.stringify(asked);
		const known = seen;
		const stamped = tools.fingerprint(text).then((version) => {
			known.push(version);
			return version;
		});
		if (!leaving) await stamped;
		const stoneToken = stoneTokens.get(asked.stone.scan?.sha256 ?? "") ?? null;
		const ours = { id: to.id, writer };
		try {
			const wish = { ...ours, text, scanToken: to.token, stoneToken, seen: known.slice(-100) };
			await tools.call("keepCommission", wish, leaving);
			const version = await stamped;
			known.splice(0, known.indexOf(version));
			if (as === to) standsAs.value = to.id;
			if (commission.value === asked || commission.value === null) kept.value = KEPT;
			if (holds) {
				await tools.held.drop(ours).catch(() => {});
				void handOver();
			}
		} catch (trouble) {
			const words = trouble instanceof Error ? trouble.message : String(trouble);
			const work = { ...ours, seen: [...known], name: asked.name, text, at: new Date().toISOString() };
			if (wasChanged(trouble)) {
				if (holds) await tools.held.drop(ours).catch(() => {});
				// Neither side is lost: what stands here becomes a commission of its own.
				const own = { id: tools.newId(), token: to.token };
				if (as !== to) return send(asked, own, leaving);
				file(own);
				apart.value = words;
				wantsMore = true;
				return;
			}
			await hold(work, words);
			if (drop === null) later(KEEP_AGAIN_MS);
		}
	}

	function keep(leaving: boolean): void {
		idle();
		const asked = commission.value;
		if (!asked || !as) {
			if (holds) void handOver();
			return;
		}
		if (sending === as && !leaving) {
			wantsMore = true;
			return;
		}
		const to = as;
		sending = to;
		kept.value = kept.value.state === "not kept" ? kept.value : KEEPING;
		void send(asked, to, leaving).finally(() => {
			if (sending === to) sending = null;
			if (!wantsMore) return;
			wantsMore = false;
			keep(false);
		});
	}
	const now = (): void => keep(false);

	/** From now on the commission is kept there. */
	function file(next: KeptAs): void {
		as = next;
		seen = next.seen ? [next.seen] : [];
		standsAs.value = next.seen ? next.id : null;
		apart.value = null;
		kept.value = KEPT;
	}

	/** Keeps held work where it belongs, or beside it where that has been changed since. */
	async function keepHeld(work: HeldWork): Promise<void> {
		const { id, seen: known, text, writer: by } = work;
		const wish = { text, scanToken: null, stoneToken: null };
		await tools.call("keepCommission", { ...wish, id, writer: by, seen: [...known] }).catch((trouble: unknown) => {
			if (!wasChanged(trouble)) throw trouble;
			return tools.call("keepCommission", { ...wish, id: tools.newId(), writer: by, seen: [] });
		});
		await tools.held.drop(work);
	}

	/**
	 * Hands over what this window and those that are gone could not keep, all but what stands here now, which is kept by
	 * itself. Answers the names of those commissions; what still cannot be kept stays held.
	 */
	async function handOver(): Promise<string[]> {
		const names: string[] = [];
		let left = false;
		for (const work of await tools.held.all().catch(() => [])) {
			const ours = work.writer === writer;
			if (ours && work.id === as?.id && commission.value !== null) continue;
			const deed = async (): Promise<void> => {
				await keepHeld(work);
				names.push(work.name);
			};
			try {
				await (ours ? deed() : tools.held.ofGone(work, deed));
			} catch {
				left ||= ours;
			}
		}
		holds = left || kept.value.state === "not kept";
		if (left && drop === null) later(KEEP_AGAIN_MS);
		return names;
	}

	return {
		kept,
		apart,
		standsAs,
		id: () => as?.id ?? "",
		seen: () => seen.at(-1) ?? null,
		token: () => as?.token ?? null,
		file,
		handOver,
		/** The scan of a stone that a commission may name from now on. */
		stone(sha256: string, token: string | null): void {
			if (token !== null) stoneTokens.set(sha256, token);
		},
		now,
		/** After the last of a few changes, or soon after the first of many. */
		soon(): void {
			if (kept.value.state === "kept") kept.value = KEEPING;
			dueSince ??= tools.now();
			later(Math.max(0, Math.min(KEEP_AFTER_MS, dueSince + KEEP_AT_LEAST_MS - tools.now())));
		},
		/** For the moment before the window goes. */
		nowIfDue(): void {
			if (drop || wantsMore) keep(true);
		},
	};
}
