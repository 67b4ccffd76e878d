import { signal } from "@preact/signals";
import { describe, expect, it } from "vitest";
import { type Commission, newCommission } from "../../core/plan/commission.ts";
import { versionOf } from "../../electron/files/journal.ts";
import { BridgeTrouble } from "../../renderer/bridge.ts";
import { createKeeper, type KeeperTools } from "../../renderer/state/keeper.ts";
import { emptyStore } from "../support/heldStore.ts";

/** The keeper between a window that changes and a holder that is slow, full, gone, or has been written by another. */

const version = (text: string): string => versionOf(new TextEncoder().encode(text));

/** A holder as the contract has it: texts by id, each replaced only where what stands there has been seen. */
function holder() {
	const texts = new Map<string, string>();
	const asked: { id: string; name: string; writer: string; leaving: boolean }[] = [];
	return {
		texts,
		asked,
		trouble: null as BridgeTrouble | null,
		/** Answers wait for this. */
		slow: null as Promise<void> | null,
		/** The answer is lost on its way, once. */
		losesAnswer: false,
		async keep(request: { id: string; text: string; writer: string; seen: string[] }, leaving = false) {
			const { id, text, writer, seen } = request;
			asked.push({ id, name: (JSON.parse(text) as Commission).name, writer, leaving });
			await this.slow;
			if (this.trouble) throw this.trouble;
			const there = texts.get(id);
			if (there !== undefined && !seen.includes(version(there)))
				throw new BridgeTrouble("files.changedMeanwhile", "changed by another window");
			texts.set(id, text);
			if (this.losesAnswer) {
				this.losesAnswer = false;
				throw new BridgeTrouble("host.away", "no answer");
			}
			return { changed: "now" };
		},
		names: () => [...texts.values()].map((text) => (JSON.parse(text) as Commission).name),
	};
}

const away = new BridgeTrouble("host.away", "The host does not answer.");
const settle = async (): Promise<void> => {
	for (let i = 0; i < 40; i++) await Promise.resolve();
};
let names = 0;

function windowAt(at: ReturnType<typeof holder>, held = emptyStore()) {
	const commission = signal<Commission | null>(null);
	const timers: { at: number; then: () => void }[] = [];
	let now = 0;
	const keeper = createKeeper(
		{
			now: () => now,
			newId: () => String(++names).padStart(16, "0"),
			fingerprint: async (text) => version(text),
			held,
			after(ms, then) {
				const timer = { at: now + ms, then };
				timers.push(timer);
				return () => void timers.splice(timers.indexOf(timer), timers.includes(timer) ? 1 : 0);
			},
			call: ((_name: string, request: never, leaving?: boolean) => at.keep(request, leaving)) as KeeperTools["call"],
		},
		commission,
	);
	return {
		keeper,
		held,
		commission,
		type(name: string): void {
			commission.value = { ...(commission.value ?? newCommission("owl.stl")), name };
			keeper.soon();
		},
		async pass(ms: number): Promise<void> {
			for (const end = now + ms; now < end; ) {
				now = Math.min(end, now + 50);
				for (const timer of [...timers])
					if (timer.at <= now) {
						timers.splice(timers.indexOf(timer), 1);
						timer.then();
					}
				await settle();
			}
		},
	};
}

describe("the keeper", () => {
	it("sends the last of many changes, and never waits longer than half a second for the first", async () => {
		const at = holder();
		const w = windowAt(at);
		w.keeper.file({ id: "a", token: null });
		for (let i = 0; i < 20; i++) {
			w.type(`state ${i}`);
			await w.pass(50);
			const kept = at.asked.at(-1)?.name.slice(6) ?? -1;
			expect(i - Number(kept)).toBeLessThanOrEqual(10);
		}
		await w.pass(400);
		expect(at.names()).toEqual(["state 19"]);
		expect(at.asked.length).toBeLessThan(6);
		expect(w.keeper.kept.value.state).toBe("kept");
	});

	it("has one text on its way at a time, and then sends the last", async () => {
		const at = holder();
		let answer: () => void = () => {};
		at.slow = new Promise((resolve) => {
			answer = resolve;
		});
		const w = windowAt(at);
		w.keeper.file({ id: "a", token: null });
		for (let i = 0; i < 8; i++) {
			w.type(`state ${i}`);
			await w.pass(600);
		}
		expect(at.asked.map(({ name }) => name)).toEqual(["state 0"]);
		answer();
		await w.pass(600);
		expect(at.asked.map(({ name }) => name)).toEqual(["state 0", "state 7"]);
		expect(w.keeper.kept.value.state).toBe("kept");
	});

	it("does not take its own text for another's when the answer to it was lost", async () => {
		const at = holder();
		const w = windowAt(at);
		w.keeper.file({ id: "a", token: null });
		w.type("one");
		await w.pass(600);
		at.losesAnswer = true;
		w.type("two");
		await w.pass(600);
		expect(w.keeper.kept.value.state).toBe("not kept");
		w.type("three");
		await w.pass(600);
		expect(at.names()).toEqual(["three"]);
		expect(w.keeper.apart.value).toBeNull();
	});

	it("keeps apart what another window has changed, and both stay", async () => {
		const at = holder();
		const [one, two] = [windowAt(at), windowAt(at)];
		for (const w of [one, two]) w.keeper.file({ id: "a", token: null });
		one.type("by one");
		await one.pass(600);
		two.type("by two");
		await two.pass(600);
		expect(at.names()).toEqual(["by one", "by two"]);
		expect(two.keeper.apart.value).toContain("another window");
		expect(two.keeper.id()).not.toBe("a");
		one.type("by one again");
		two.type("by two again");
		await one.pass(600);
		await two.pass(600);
		expect(at.names()).toEqual(["by one again", "by two again"]);
	});

	it("keeps the last change before another commission is taken up", async () => {
		const at = holder();
		const w = windowAt(at);
		w.keeper.file({ id: "a", token: null });
		w.type("last change");
		w.keeper.nowIfDue();
		w.commission.value = { ...newCommission("lion.stl"), name: "lion" };
		w.keeper.file({ id: "b", token: null });
		w.keeper.now();
		await w.pass(600);
		expect(at.names()).toEqual(["last change", "lion"]);
	});

	it("says that it leaves when the window goes", async () => {
		const at = holder();
		const w = windowAt(at);
		w.keeper.file({ id: "a", token: null });
		w.type("last words");
		w.keeper.nowIfDue();
		expect(at.asked).toMatchObject([{ name: "last words", leaving: true }]);
	});
});

describe("while nothing can be kept", () => {
	it("every change is held by the browser, told, and kept as soon as the host is back", async () => {
		const at = holder();
		const w = windowAt(at);
		w.keeper.file({ id: "a", token: null });
		at.trouble = away;
		for (const name of ["one", "two"]) {
			w.type(name);
			await w.pass(600);
			expect(w.keeper.kept.value).toMatchObject({ state: "not kept", safe: true });
			expect(w.keeper.kept.value.trouble).toMatch(/^The host does not answer\..* browser holds it/);
			expect((await w.held.all()).map((work) => work.name)).toEqual([name]);
		}
		at.trouble = null;
		await w.pass(6000);
		expect(at.names()).toEqual(["two"]);
		expect(w.keeper.kept.value).toMatchObject({ state: "kept", trouble: "" });
		expect(await w.held.all()).toEqual([]);
	});

	it("says so when the browser cannot hold it either", async () => {
		const at = holder();
		const w = windowAt(at);
		w.held.full = true;
		w.keeper.file({ id: "a", token: null });
		at.trouble = away;
		w.type("one");
		await w.pass(600);
		expect(w.keeper.kept.value).toMatchObject({ state: "not kept", safe: false });
		expect(w.keeper.kept.value.trouble).toContain("save it as a file");
	});

	it("the window may take up other work, and both are kept in the end", async () => {
		const at = holder();
		const w = windowAt(at);
		w.keeper.file({ id: "a", token: null });
		at.trouble = away;
		w.type("first work");
		await w.pass(600);
		w.keeper.nowIfDue();
		w.commission.value = null;
		await w.pass(6000);
		expect((await w.held.all()).map((work) => work.name)).toEqual(["first work"]);
		at.trouble = null;
		await w.pass(6000);
		expect(at.names()).toEqual(["first work"]);
		expect(await w.held.all()).toEqual([]);
	});

	it("the next window hands over what a window that is gone had typed, and not what a living one has", async () => {
		const at = holder();
		const held = emptyStore();
		const gone = windowAt(at, held);
		gone.keeper.file({ id: "a", token: null });
		gone.type("kept");
		await gone.pass(600);
		at.trouble = away;
		gone.type("typed without a host");
		await gone.pass(600);
		const living = windowAt(at, held);
		living.keeper.file({ id: "b", token: null });
		living.type("by a living window");
		await living.pass(600);
		held.living.delete((await held.all())[0].writer);
		at.trouble = null;
		expect(await windowAt(at, held).keeper.handOver()).toEqual(["typed without a host"]);
		expect(at.names()).toEqual(["typed without a host"]);
		await living.pass(6000);
		expect(at.names()).toEqual(["typed without a host", "by a living window"]);
		expect(await held.all()).toEqual([]);
	});

	it("held work stands beside what was changed meanwhile, and over nothing", async () => {
		const at = holder();
		const held = emptyStore();
		const gone = windowAt(at, held);
		gone.keeper.file({ id: "a", token: null });
		gone.type("kept");
		await gone.pass(600);
		at.trouble = away;
		gone.type("typed without a host");
		await gone.pass(600);
		held.living.clear();
		at.trouble = null;
		at.texts.set("a", JSON.stringify({ ...newCommission("owl.stl"), name: "changed by another" }));
		expect(await windowAt(at, held).keeper.handOver()).toEqual(["typed without a host"]);
		expect(at.names()).toEqual(["changed by another", "typed without a host"]);
	});
});
