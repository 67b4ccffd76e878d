import { effect } from "@preact/signals";
import { describe, expect, it } from "vitest";
import type { AnswerName } from "../../core/plan/answersByStages.ts";
import { type LogEntry, newCommission } from "../../core/plan/commission.ts";
import { versionOf } from "../../electron/files/journal.ts";
import { Cancelled, type JobClient, JobFailed } from "../../renderer/jobs/jobClient.ts";
import type { AnswerShown, AnswersShown, Jobs, ScanShown } from "../../renderer/jobs/shown.ts";
import type { ScanCopies } from "../../renderer/state/scanCopies.ts";
import { createSession } from "../../renderer/state/session.ts";
import { asLeft, troubles } from "../../renderer/state/ui.ts";
import { emptyStore } from "../support/heldStore.ts";

/** An answer as the worker tells it, held under its own name. */
const told = (name: AnswerName, stamp: number, answers: Partial<AnswersShown>): AnswerShown => ({
	name,
	page: "stone",
	waits: [],
	fresh: [[name, { stamp, value: { answers, maps: {} } }]],
});
const SIZES = { turned: null } as unknown as AnswersShown["sizes"];

const opened = (name: string): ScanShown => ({
	name,
	sha256: "ab".repeat(32),
	format: "STL binary",
	notes: [],
	health: {
		triangles: 4,
		weldedVertices: 4,
		shells: 1,
		openEdges: 0,
		nonManifoldEdges: 0,
		crowdedArea: 0,
		flippedTriangles: 0,
		degenerateTriangles: 0,
		duplicateTriangles: 0,
		duplicateSameWay: 0,
		closed: true,
		area: 1,
		volume: 1,
		centroid: [0, 0, 0],
		bounds: { min: [0, 0, 0], max: [100, 100, 100] },
	},
	unit: { unit: "mm", candidates: [], reason: { code: "unit.fromSize", facts: {} } },
});

interface Asked {
	readonly job: string;
	readonly input: unknown;
	cancelled: boolean;
	done(output: unknown): Promise<void>;
	fail(trouble: Error): Promise<void>;
	tell(part: AnswerShown): void;
}

/** A session whose worker, shell and clock are in the test's hands. */
function bench() {
	const asked: Asked[] = [];
	/** Questions which answers still stand: one at every change. */
	const looked: Asked[] = [];
	const calls: { name: string; request: unknown }[] = [];
	const timers: { at: number; then: () => void }[] = [];
	let now = 0;
	let refusesToKeep = false;
	const kept = new Map<string, File>();
	/** Commissions by id, as the holder keeps them. */
	const texts = new Map<string, string>();
	const copies: ScanCopies = {
		keep: async (sha256, file) => void kept.set(sha256, file),
		find: async (sha256) => kept.get(sha256) ?? null,
	};
	const settle = async (): Promise<void> => {
		for (let i = 0; i < 12; i++) await Promise.resolve();
	};
	const jobs = {
		run(job: string, input: unknown, _: unknown, onPart?: (part: AnswerShown) => void) {
			let resolve: (output: unknown) => void = () => {};
			let reject: (trouble: Error) => void = () => {};
			const promise = new Promise((yes, no) => {
				resolve = yes;
				reject = no;
			});
			const one: Asked = {
				job,
				input,
				cancelled: false,
				tell: (part) => onPart?.(part),
				done: (output) => {
					resolve(output);
					return settle();
				},
				fail: (trouble) => {
					reject(trouble);
					return settle();
				},
			};
			(job === "stillStanding" ? looked : asked).push(one);
			return {
				promise,
				cancel() {
					one.cancelled = true;
					reject(new Cancelled());
				},
			};
		},
		abandon() {},
	} as unknown as JobClient<Jobs>;
	const session = createSession({
		jobs,
		call: (async (name: string, request: unknown) => {
			calls.push({ name, request });
			if (refusesToKeep) throw new Error("the disk is full");
			const { id, text } = request as { id: string; text?: string };
			if (name === "keepCommission") texts.set(id, text ?? "");
			if (name !== "recallCommission") return { changed: "now" };
			const found = texts.get(id);
			if (found === undefined) throw new Error("no such commission");
			const version = versionOf(new TextEncoder().encode(found));
			return { text: found, version, earlier: false, grant: null, stoneGrant: null };
		}) as never,
		now: () => now,
		after(ms, then) {
			const timer = { at: now + ms, then };
			timers.push(timer);
			return () => void timers.splice(timers.indexOf(timer), timers.includes(timer) ? 1 : 0);
		},
		newId: () => "0123456789abcdef",
		fingerprint: async (text) => versionOf(new TextEncoder().encode(text)),
		held: emptyStore(),
		scans: copies,
	});
	return {
		session,
		asked,
		looked,
		calls,
		settle,
		last: () => asked[asked.length - 1],
		keptIds: () => [...texts.keys()].join(" "),
		refuseToKeep: (yes: boolean) => {
			refusesToKeep = yes;
		},
		async pass(ms: number) {
			now += ms;
			for (const timer of timers.splice(0).sort((a, b) => a.at - b.at))
				if (timer.at <= now) timer.then();
				else timers.push(timer);
			await settle();
		},
		async open(name = "figure.stl") {
			void session.openScan({ kind: "file", file: { name } as File });
			await settle();
			await asked[asked.length - 1].done(opened(name));
			await asked[asked.length - 1].done(null);
			asked[asked.length - 1].tell(told("sizes", 1, { sizes: SIZES }));
			await asked[asked.length - 1].done(null);
		},
	};
}

const withScale = (scale: number) => (c: ReturnType<typeof newCommission>) => ({ ...c, model: { ...c.model, scale } });

describe("session", () => {
	it("opens a scan, stands it up, works it out and keeps the commission", async () => {
		const b = bench();
		await b.open("owl.stl");
		// A scan does not say which way is up; a demo's commission does.
		expect(b.session.commission.value?.model.stanceSaid).toBe(false);
		expect(b.asked.map((one) => one.job)).toEqual(["openScan", "standUp", "work"]);
		expect(b.session.commission.value?.name).toBe("owl");
		expect(b.session.commission.value?.scan.sha256).toBe("ab".repeat(32));
		expect(b.session.stale.value).toBe(false);
		expect(b.session.working.value).toBeNull();
		expect(b.calls.map((one) => one.name)).toEqual(["keepCommission"]);
	});

	it("leaves everything in place when a further scan is refused, and says why", async () => {
		const b = bench();
		await b.open("owl.stl");
		const before = b.session.commission.value;
		void b.session.openScan({ kind: "file", file: { name: "bad.stl" } as File });
		await b.settle();
		await b.last().fail(new JobFailed({ code: "scan.empty", facts: { name: "bad.stl" } }, ""));
		expect(b.session.openTrouble.value).toContain("bad.stl is empty");
		expect(b.session.commission.value).toBe(before);
		expect(b.session.scan.value?.name).toBe("owl.stl");
		expect(b.session.answers.value?.sizes).toBe(SIZES);
	});

	it("works out again only when the keystrokes have ended, and marks the old answers until then", async () => {
		const b = bench();
		await b.open();
		const jobs = b.asked.length;
		for (const scale of [1.1, 1.2, 1.3]) {
			b.session.change(`scale ${scale}`, withScale(scale), { key: "scale" });
			await b.pass(100);
		}
		expect(b.session.stale.value).toBe(true);
		expect(b.session.answers.value?.sizes).toBe(SIZES);
		expect(b.asked.length).toBe(jobs);
		await b.pass(300);
		expect(b.asked.length).toBe(jobs + 1);
		expect(b.last()).toMatchObject({ job: "standUp", input: { commission: { model: { scale: 1.3 } } } });
		expect(b.session.history.value?.past.map((step) => step.words)).toEqual(["scale 1.3"]);
	});

	it("shows each answer as soon as it stands, and marks only what a change leaves behind", async () => {
		const b = bench();
		await b.open();
		const { awaited } = b.session;
		expect([awaited.sizes, awaited.stone]).toEqual([false, true]);
		b.session.change("scale", withScale(2));
		expect(awaited.sizes).toBe(true);
		expect(b.looked.at(-1)).toMatchObject({ input: { commission: { model: { scale: 2 } }, holds: { sizes: 1 } } });
		await b.looked.at(-1)?.done(["sizes"]);
		expect([awaited.sizes, awaited.stone]).toEqual([false, true]);
		await b.pass(300);
		await b.last().done(null);
		const seen: unknown[] = [];
		const end = effect(() => void seen.push(b.session.answers.value?.sizes));
		b.last().tell(told("stone", 2, { stone: null }));
		expect([awaited.stone, awaited.plan, b.session.stale.value]).toEqual([false, true, true]);
		b.last().tell({ ...told("sizes", 1, {}), fresh: [["sizes", null]] });
		// Neither another answer nor the same one once more is news to whoever reads this one.
		expect(seen).toEqual([SIZES]);
		end();
	});

	it("takes no word of an earlier change for one of the last", async () => {
		const b = bench();
		await b.open();
		b.session.change("scale", withScale(2));
		b.session.change("scale", withScale(3));
		await b.looked[0].done(["sizes"]);
		expect(b.session.awaited.sizes).toBe(true);
		await b.looked[1].done(["sizes"]);
		expect(b.session.awaited.sizes).toBe(false);
	});

	it("stops a plan for inputs that are gone", async () => {
		const b = bench();
		await b.open();
		b.session.change("scale", withScale(2));
		await b.pass(300);
		await b.last().done(null);
		const work = b.last();
		expect(work.job).toBe("work");
		b.session.change("scale", withScale(3));
		expect(work.cancelled).toBe(true);
		await b.pass(300);
		expect(b.last()).toMatchObject({ job: "standUp", input: { commission: { model: { scale: 3 } } } });
	});

	it("keeps the last good answer when the carver stops the work, and works it out on request", async () => {
		const b = bench();
		await b.open();
		b.session.change("scale", withScale(2));
		await b.pass(300);
		b.session.cancel();
		await b.settle();
		expect(b.session.answers.value?.sizes).toBe(SIZES);
		expect(b.session.stale.value).toBe(true);
		expect(b.session.workTrouble.value).toBeNull();
		const jobs = b.asked.length;
		b.session.rework();
		expect(b.asked.length).toBe(jobs + 1);
	});

	it("refuses a value outside the document and changes nothing", async () => {
		const b = bench();
		await b.open();
		const before = b.session.history.value;
		expect(b.session.change("scale", withScale(-1))).toMatch(/model scale/);
		expect(b.session.history.value).toBe(before);
		expect(b.session.change("the same", (c) => ({ ...c }))).toBeNull();
		expect(b.session.history.value).toBe(before);
	});

	it("undoes and redoes with the answers following", async () => {
		const b = bench();
		await b.open();
		b.session.change("scale 2", withScale(2));
		b.session.undo();
		expect(b.session.commission.value?.model.scale).toBe(1);
		b.session.redo();
		expect(b.session.commission.value?.model.scale).toBe(2);
		await b.pass(300);
		expect(b.last()).toMatchObject({ job: "standUp", input: { commission: { model: { scale: 2 } } } });
	});

	it("keeps every change within a second, and tries again when it cannot", async () => {
		const b = bench();
		await b.open();
		b.refuseToKeep(true);
		b.session.change("scale 2", withScale(2));
		await b.pass(1000);
		expect(b.session.kept.value).toMatchObject({ state: "not kept", safe: true });
		expect(b.session.kept.value.trouble).toMatch(/^the disk is full/);
		b.refuseToKeep(false);
		await b.pass(5000);
		expect(b.session.kept.value.state).toBe("kept");
		const { request } = b.calls[b.calls.length - 1];
		expect(JSON.parse((request as { text: string }).text).model.scale).toBe(2);
	});

	it("goes on with the copy of a scan that was chosen by hand", async () => {
		const b = bench();
		await b.open("figure.stl");
		const text = JSON.stringify({ ...b.session.commission.value, model: { ...newCommission("a").model, scale: 1.5 } });
		void b.session.openCommission(text, null, "00112233445566ff");
		await b.settle();
		expect(b.last()).toMatchObject({
			job: "openScan",
			input: { handle: { kind: "file", file: { name: "figure.stl" } } },
		});
		await b.last().done(opened("figure.stl"));
		expect(b.session.scanWanted.value).toBeNull();
		expect(b.session.commission.value?.model.scale).toBe(1.5);
	});

	it("goes on with a scan of the same name that has changed, and says so; another one begins its own", async () => {
		for (const [name, goesOn] of [
			["figure.stl", true],
			["lion.stl", false],
		] as const) {
			const b = bench();
			const old = newCommission("figure.stl");
			const text = JSON.stringify({
				...old,
				scan: { ...old.scan, sha256: "cd".repeat(32) },
				model: { ...old.model, scale: 1.5 },
			});
			await b.session.openCommission(text, null, "00112233445566ff");
			await b.open(name);
			expect(b.session.commission.value?.model.scale).toBe(goesOn ? 1.5 : 1);
			expect(troubles.value.scan).toContain(goesOn ? "has changed since" : "is not the scan of commission");
		}
	});

	it("does not go on with a scan that has changed since holes were drilled by it", async () => {
		const b = bench();
		const old = newCommission("figure.stl");
		const done = { kind: "done", id: "abcdefgh0", at: "2024-03-11T08:00:00", hand: "", point: 3, seconds: null };
		const text = JSON.stringify({
			...old,
			name: "drilled",
			scan: { ...old.scan, sha256: "cd".repeat(32) },
			log: [done],
		});
		const grant = { token: "1".repeat(32), name: "figure.stl", size: 84 };
		void b.session.openCommission(text, grant, "00112233445566ff");
		await b.settle();
		await b.last().done(opened("figure.stl"));
		expect(b.session.scanWanted.value).toBe("figure.stl");
		expect(b.session.openTrouble.value).toContain("has changed since holes were drilled by it");
		expect(b.session.commission.value?.log).toHaveLength(1);
		await b.open("figure.stl");
		expect(b.session.commission.value?.log).toEqual([]);
		expect(troubles.value.scan).toContain("still waits for its scan as it was");
	});

	it("refuses what would make another figure of what is drilled, and changes nothing", async () => {
		const b = bench();
		await b.open();
		const done: LogEntry = {
			kind: "done",
			id: "abcdefgh0",
			at: "2024-03-11T08:00:00",
			hand: "",
			point: 3,
			seconds: null,
		};
		expect(b.session.change("point 3 done", (c) => ({ ...c, log: [done] }))).toBeNull();
		const before = b.session.history.value;
		expect(b.session.change("scale 2", withScale(2))).toContain("Point 3 is drilled");
		expect(b.session.history.value).toBe(before);
		b.session.undo();
		expect(b.session.change("scale 2", withScale(2))).toBeNull();
	});

	it("asks for a scan that is not where it was, and goes on when the same one is opened", async () => {
		const b = bench();
		const text = JSON.stringify({
			...newCommission("figure.stl"),
			scan: { ...newCommission("figure.stl").scan, sha256: "ab".repeat(32) },
			model: { ...newCommission("figure.stl").model, scale: 1.5 },
		});
		await b.session.openCommission(text, null, "00112233445566ff");
		expect(b.session.scanWanted.value).toBe("figure.stl");
		await b.open("renamed.stl");
		expect(b.session.scanWanted.value).toBeNull();
		expect(b.session.commission.value?.model.scale).toBe(1.5);
	});

	it("reads the stone's own scan before the model's, and keeps the leave for it with the commission", async () => {
		const b = bench();
		const plain = newCommission("figure.stl");
		const scan = { file: "boulder.ply", sha256: "cd".repeat(32), unit: "mm" };
		const text = JSON.stringify({ ...plain, stone: { ...plain.stone, given: "scan", scan } });
		const grant = (token: string, name: string) => ({ token: token.repeat(32), name, size: 84 });
		const stoneGrant = grant("2", "boulder.ply");
		void b.session.openCommission(text, grant("1", "figure.stl"), "00112233445566ff", null, stoneGrant);
		await b.settle();
		expect(b.last()).toMatchObject({ job: "openStone", input: { handle: { kind: "grant", ...stoneGrant } } });
		await b.last().done({ name: "boulder.ply", sha256: scan.sha256, unit: "mm" });
		expect(b.last().job).toBe("openScan");
		await b.last().done(opened("figure.stl"));
		expect(b.calls.at(-1)?.request).toMatchObject({ scanToken: "1".repeat(32), stoneToken: "2".repeat(32) });
	});

	it("goes on with what was made of a file when the file is opened again, and opens it as it is on request", async () => {
		const b = bench();
		const text = JSON.stringify({ ...newCommission("figure.stl"), name: "from the file" });
		const answer = async (): Promise<void> => {
			await b.settle();
			await b.last().done(opened("figure.stl"));
		};
		const grant = { token: "1".repeat(32), name: "figure.stl", size: 84 };
		void b.session.openDocument(text, { grant, stoneGrant: null });
		await answer();
		expect(b.session.commission.value?.name).toBe("from the file");
		expect(asLeft.value).toBeNull();
		b.session.change("scale", withScale(1.5));
		await b.pass(1000);
		void b.session.openDocument(text, { grant, stoneGrant: null });
		await answer();
		expect(b.session.commission.value?.model.scale).toBe(1.5);
		expect(asLeft.value?.name).toBe("from the file");
		const id = b.keptIds();
		asLeft.value?.anew();
		await answer();
		expect(b.session.commission.value?.model.scale).toBe(1);
		expect(asLeft.value).toBeNull();
		await b.pass(1000);
		expect(b.keptIds()).not.toBe(id);
	});

	it("refuses a commission with an unknown key in one line", async () => {
		const b = bench();
		await b.session.openCommission(
			JSON.stringify({ ...newCommission("a.stl"), colour: "red" }),
			null,
			"00112233445566ff",
		);
		expect(b.session.openTrouble.value).toMatch(/colour/);
		expect(b.session.openTrouble.value).not.toContain("\n");
		expect(b.session.commission.value).toBeNull();
	});
});
