/**
 * One window's work: the open scan, the commission with its history, and the answers that the worker gives to them. The last
 * good answer stays until the new one is there; a scan that is refused leaves the one before it in place.
 */

import { batch, computed, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { QuickWishes } from "../../core/finish/quickQuote.ts";
import type { Progress } from "../../core/job.ts";
import { type Commission, commissionSchema, newCommission } from "../../core/plan/commission.ts";
import { readCommission } from "../../core/plan/readDocument.ts";
import { Refusal } from "../../core/refusal.ts";
import type { Unit } from "../../core/scan/unit.ts";
import { refusalText } from "../../core/text/refusals.ts";
import type { Placement } from "../../core/vector.ts";
import type { CallName, Reply, Request, ScanGrant } from "../../electron/bridge/contract.ts";
import { demoCommission } from "../../seeds/demo.ts";
import type { Seed } from "../../seeds/index.ts";
import type { DisplayMesh } from "../jobs/displayMesh.ts";
import { Cancelled, type JobClient, JobFailed, type RunningJob } from "../jobs/jobClient.ts";
import type {
	AnewAsked,
	AnewShown,
	AnswersShown,
	Jobs,
	MapsShown,
	MovedShown,
	ScanShown,
	SheetsOutput,
	Standing,
	ThicknessShown,
} from "../jobs/shown.ts";
import { handleName, type ScanHandle } from "../jobs/sources.ts";
import { demoOf } from "./demos.ts";
import { withDrilled } from "./drilled.ts";
import { createKeeper, type KeptAs } from "./keeper.ts";
import { twinOf } from "./mirror.ts";
import { recents, setTrouble } from "./ui.ts";
import { begin, type History, record, redo, undo } from "./undo.ts";

export interface SessionTools {
	readonly jobs: JobClient<Jobs>;
	call<N extends CallName>(name: N, request: Request<N>): Promise<Reply<N>>;
	/** ms */
	now(): number;
	/** Calls back after that many ms unless the returned function is called first. */
	after(ms: number, then: () => void): () => void;
	newId(): string;
}

export interface Working {
	readonly what: "opening" | "planning" | "sheets";
	readonly stage: string;
	readonly share: number;
	cancel(): void;
}

/** What the window asks after the last keystroke before the planner starts again. */
const REWORK_AFTER_MS = 220;

export type Session = ReturnType<typeof createSession>;

const words = (trouble: unknown): string => {
	if (trouble instanceof JobFailed)
		return trouble.issue
			? refusalText(trouble.issue)
			: `The planner met a defect of its own (${trouble.message}). What you entered is kept; undo the last change to go on.`;
	if (trouble instanceof Refusal) return refusalText(trouble.issue);
	return trouble instanceof Error ? trouble.message : String(trouble);
};

export function createSession(tools: SessionTools) {
	const history: Signal<History<Commission> | null> = signal(null);
	const scan: Signal<ScanShown | null> = signal(null);
	const answers: Signal<AnswersShown | null> = signal(null);
	const mesh: Signal<DisplayMesh | null> = signal(null);
	const standing: Signal<Standing | null> = signal(null);
	const thickness: Signal<ThicknessShown | null> = signal(null);
	const maps: Signal<MapsShown | null> = signal(null);
	/** The answers belong to an earlier state of the commission. */
	const stale = signal(false);
	const working: Signal<Working | null> = signal(null);
	const openTrouble: Signal<string | null> = signal(null);
	const workTrouble: Signal<string | null> = signal(null);
	/** A commission whose scan has not been found: the file name to look for. */
	const scanWanted: Signal<string | null> = signal(null);

	const commission: ReadonlySignal<Commission | null> = computed(() => history.value?.present ?? null);
	const plan = computed(() => answers.value?.plan ?? null);
	const units = computed(() => commission.value?.sheet.units ?? "mm");
	/** The demo whose scan is open: a file of the carver's own may have the same name. */
	const demo: Signal<Seed | null> = signal(null);
	/** What a commission on this scan holds before anything is changed: a demo's own wishes count as such. */
	const standard: ReadonlySignal<Commission | null> = computed(() => {
		const file = commission.value?.scan.file;
		if (file === undefined) return null;
		return demo.value ? demoCommission(demo.value) : newCommission(file);
	});

	const keeper = createKeeper(tools, commission);
	let running: RunningJob<unknown> | null = null;
	let dropRework: (() => void) | null = null;

	function run<N extends keyof Jobs & string>(
		job: N,
		input: Jobs[N]["input"],
		what: Working["what"],
	): Promise<Jobs[N]["output"]> {
		const show = ({ stage, share }: Progress): void => {
			if (working.value?.cancel === one.cancel) working.value = { ...working.value, stage, share };
		};
		const one = tools.jobs.run(job, input, show);
		running = one;
		working.value = { what, stage: "", share: 0, cancel: one.cancel };
		return one.promise.finally(() => {
			if (running === one) {
				running = null;
				working.value = null;
			}
		});
	}

	const rework = (): void => {
		dropRework?.();
		dropRework = null;
		const asked = commission.value;
		if (!asked || !scan.value) return;
		running?.cancel();
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
				workTrouble.value = words(trouble);
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
				if (!(trouble instanceof Cancelled)) workTrouble.value = words(trouble);
			},
		);
	};

	/** What is done at the bench is kept, but changes no answer. */
	const logAlone = (before: Commission, next: Commission): boolean =>
		JSON.stringify({ ...before, log: [] }) === JSON.stringify({ ...next, log: [] });

	const changed = (before: Commission): void => {
		if (commission.value && logAlone(before, commission.value)) {
			keeper.soon();
			return;
		}
		stale.value = true;
		// A plan for inputs that are gone is not worth finishing; opening and drawing go on.
		if (working.value?.what === "planning") running?.cancel();
		dropRework?.();
		dropRework = tools.after(REWORK_AFTER_MS, rework);
		keeper.soon();
	};

	/** Changes the commission; answers the reason when the change is refused, and then nothing has changed. */
	function change(
		what: string,
		recipe: (commission: Commission) => Commission,
		options: { readonly key?: string } = {},
	): string | null {
		const before = history.value;
		if (!before) return "Open a scan first.";
		const wanted = recipe(before.present);
		const held = stale.value ? before.present : withDrilled(before.present, wanted, plan.value);
		// Held fast first, so that holes go along with whatever the change does to the model.
		const parsed = commissionSchema.safeParse(held === before.present ? wanted : recipe(held));
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

	/** Takes an opened scan with its commission for the window's own. */
	const take = (opened: ScanShown, present: Commission, as: KeptAs & { readonly demo?: Seed }): void => {
		batch(() => {
			scan.value = opened;
			history.value = begin({ ...present, scan: { ...present.scan, sha256: opened.sha256 } });
			answers.value = null;
			mesh.value = null;
			standing.value = null;
			thickness.value = null;
			maps.value = null;
			openTrouble.value = null;
			workTrouble.value = null;
			scanWanted.value = null;
			demo.value = as.demo ?? null;
			keeper.file(as);
		});
		// A demo that nobody has changed can be opened again at any time, and would only crowd what was worked on lately.
		if (as.demo === undefined) keeper.now();
		rework();
	};

	async function opening(start: () => Promise<void>): Promise<void> {
		openTrouble.value = null;
		// A change just made must not stop the opening when its turn comes; it is worked out if the opening fails.
		dropRework?.();
		dropRework = null;
		running?.cancel();
		try {
			await start();
		} catch (trouble) {
			if (trouble instanceof Cancelled) {
				if (commission.value && stale.value) rework();
				return;
			}
			openTrouble.value = words(trouble);
			if (commission.value && stale.value) rework();
		}
	}

	const nameOf = (file: string): string => file.replace(/\.(stl|ply)$/i, "").slice(0, 120) || "commission";
	const tokenOf = (handle: ScanHandle): string | null => (handle.kind === "grant" ? handle.token : null);

	const openScan = (handle: ScanHandle): Promise<void> =>
		opening(async () => {
			const waiting = scanWanted.value === null ? null : history.value;
			const opened = await run("openScan", { handle }, "opening");
			const name = handleName(handle);
			if (waiting && waiting.present.scan.sha256 === opened.sha256)
				return take(opened, waiting.present, { id: keeper.id(), token: tokenOf(handle), seen: keeper.seen() });
			take(opened, { ...newCommission(name), name: nameOf(name) }, { id: tools.newId(), token: tokenOf(handle) });
		});

	const openDemo = (name: string): Promise<void> =>
		opening(async () => {
			const seed = demoOf(name);
			if (!seed) throw new Error(`There is no demo named ${name}.`);
			const opened = await run("openDemo", { name: seed.name }, "opening");
			take(opened, demoCommission(seed), { id: tools.newId(), token: null, demo: seed });
		});

	/** The other one of a pair, as a commission of its own on the same scan; the first is kept as it is. */
	const beginTwin = (): void => {
		const opened = scan.value;
		const first = commission.value;
		if (!opened || !first) return;
		keeper.now();
		take(opened, twinOf(first), { id: tools.newId(), token: keeper.token(), demo: demo.value ?? undefined });
		keeper.now();
	};

	/** The scan of a kept commission's stone, for the planner; where it cannot be read, the planner says that it is missing. */
	const holdStone = async (grant: ScanGrant): Promise<void> => {
		try {
			const { sha256 } = await run("openStone", { handle: { kind: "grant", ...grant } }, "opening");
			keeper.stone(sha256, grant.token);
		} catch (trouble) {
			if (trouble instanceof Cancelled) throw trouble;
			setTrouble("block", words(trouble));
		}
	};

	/** Opens a kept commission: its scans by the grants that came with it, or made again for a demo. */
	const openCommission = (
		text: string,
		grant: ScanGrant | null,
		as: string,
		seen: string | null = null,
		stoneGrant: ScanGrant | null = null,
	): Promise<void> =>
		opening(async () => {
			const found = readCommission(text, "the commission");
			if (stoneGrant && found.stone.scan) await holdStone(stoneGrant);
			const seed = demoOf(found.scan.file);
			if (grant) {
				const opened = await run("openScan", { handle: { kind: "grant", ...grant } }, "opening");
				take(opened, found, { id: as, token: grant.token, seen });
				if (found.scan.sha256 !== "" && found.scan.sha256 !== opened.sha256)
					setTrouble(
						"scan",
						`${grant.name} has changed since this commission was last worked on: look whether datums and picked points still lie where they should.`,
					);
				return;
			}
			if (seed) {
				const opened = await run("openDemo", { name: seed.name }, "opening");
				if (opened.sha256 === found.scan.sha256) return take(opened, found, { id: as, token: null, seen, demo: seed });
			}
			batch(() => {
				history.value = begin(found);
				scan.value = null;
				answers.value = null;
				mesh.value = null;
				standing.value = null;
				thickness.value = null;
				maps.value = null;
				scanWanted.value = found.scan.file;
				keeper.file({ id: as, token: null, seen });
			});
		});

	const openRecent = async (recent: string): Promise<void> => {
		try {
			const { text, grant, stoneGrant, version, earlier } = await tools.call("recallCommission", { id: recent });
			await openCommission(text, grant, recent, version, stoneGrant);
			if (earlier)
				setTrouble(
					"scan",
					"The kept file of this commission was spoilt from outside. This is how it stood before the last session: look what is missing.",
				);
		} catch (trouble) {
			openTrouble.value = words(trouble);
		}
	};

	/** Back to the first screen. What is open has been kept and is offered there again. */
	const putAway = (): void => {
		keeper.nowIfDue();
		running?.cancel();
		dropRework?.();
		dropRework = null;
		batch(() => {
			history.value = null;
			scan.value = null;
			answers.value = null;
			mesh.value = null;
			maps.value = null;
			demo.value = null;
			stale.value = false;
			openTrouble.value = null;
			workTrouble.value = null;
			scanWanted.value = null;
		});
		// The list of what was worked on lately has changed with it.
		tools.call("hello", {}).then(
			({ recents: found }) => {
				recents.value = found;
			},
			(trouble: unknown) => {
				openTrouble.value = words(trouble);
			},
		);
	};

	/** Opens the scan of a stone and takes it for the commission's; the trouble in words, or null. */
	const openStone = async (handle: ScanHandle, given: Unit | null = null): Promise<string | null> => {
		try {
			const { name, sha256, unit: found } = await run("openStone", { handle }, "opening");
			keeper.stone(sha256, tokenOf(handle));
			const unit = given ?? found;
			return change(`stone: ${name}`, (c) => ({
				...c,
				stone: { ...c.stone, given: "scan", scan: { file: name, sha256, unit }, byHand: null },
			}));
		} catch (trouble) {
			if (trouble instanceof Cancelled) return null;
			return words(trouble);
		}
	};

	/** Where the figure settles near the place in which it is held; null when that was cancelled. */
	const settle = async (placement: Placement): Promise<Jobs["settle"]["output"] | null> => {
		const asked = commission.value;
		if (!asked) return null;
		try {
			return await tools.jobs.run("settle", { commission: asked, placement }).promise;
		} catch (trouble) {
			if (trouble instanceof Cancelled) return null;
			setTrouble("hand", words(trouble));
			return null;
		}
	};

	/** What is drawn of the plan that stands; null when it was cancelled. */
	const drawn = async <T>(
		draw: (asked: Commission) => Promise<T>,
		asked: Commission | null = commission.value,
	): Promise<T | null> => {
		if (!asked) return null;
		try {
			return await draw(asked);
		} catch (trouble) {
			if (trouble instanceof Cancelled) return null;
			throw new Error(words(trouble));
		}
	};
	const drawSheets = (): Promise<SheetsOutput | null> =>
		drawn((asked) => run("sheets", { commission: asked }, "sheets"));
	const drawFullSize = (what: "templates" | "maps"): Promise<Jobs["fullSize"]["output"] | null> =>
		drawn((asked) => run("fullSize", { commission: asked, what }, "sheets"));

	/** Offer and worksheet of the plan that stands, or of a first guess before any scan; null when it was cancelled. */
	const drawQuote = (asked: Commission, quick: QuickWishes | null): Promise<Jobs["quote"]["output"] | null> =>
		drawn(() => run("quote", { commission: asked, quick }, "sheets"), asked);

	/** The cut along the hole of one point of the plan that stands, as SVG; it runs beside whatever else is worked out. */
	const cutHole = (number: number): RunningJob<{ readonly svg: string }> =>
		tools.jobs.run("section", { commission: commission.value as Commission, number });

	/** The figure for the workers of the yard; it runs beside whatever else is worked out. */
	const askYardFigure = (scanned: boolean): RunningJob<Jobs["yardFigure"]["output"]> =>
		tools.jobs.run("yardFigure", { commission: commission.value as Commission, scanned });

	/** Sheets of only what is left; null when it was cancelled. */
	const drawLeft = async (day: string): Promise<Uint8Array<ArrayBuffer> | null> => {
		try {
			return (await run("left", { commission: commission.value as Commission, day }, "sheets")).pdf;
		} catch (trouble) {
			if (trouble instanceof Cancelled) return null;
			throw new Error(words(trouble));
		}
	};

	/** Whether anything has moved, from the log as it stands. */
	const askMoved = (): RunningJob<MovedShown | null> =>
		tools.jobs.run("moved", { commission: commission.value as Commission });

	/** The figure placed anew in the stone that is left; null when it was cancelled. */
	const askAnew = async (asked: AnewAsked): Promise<AnewShown | null> => {
		try {
			return await run("placeAnew", { commission: commission.value as Commission, asked }, "planning");
		} catch (trouble) {
			if (trouble instanceof Cancelled) return null;
			throw new Error(words(trouble));
		}
	};

	return {
		commission,
		standard,
		history,
		scan,
		answers,
		plan,
		mesh,
		standing,
		thickness,
		maps,
		stale,
		working,
		openTrouble,
		workTrouble,
		kept: keeper.kept,
		keptApart: keeper.apart,
		scanWanted,
		units,
		change,
		undo: () => step(undo),
		redo: () => step(redo),
		cancel: () => working.value?.cancel(),
		rework,
		openScan,
		openDemo,
		openStone,
		settle,
		beginTwin,
		openCommission,
		openRecent,
		drawSheets,
		drawFullSize,
		drawQuote,
		cutHole,
		askMoved,
		askYardFigure,
		askAnew,
		drawLeft,
		/** Puts down what has not been kept yet; for the moment before the window goes. */
		keepNow: keeper.nowIfDue,
		putAway,
	};
}
