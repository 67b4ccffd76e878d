/** What the window holds of one commission: its scan, what was entered, and the answers that were given to it. */

import { batch, computed, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { AnswerName } from "../../core/plan/answersByStages.ts";
import { type Commission, newCommission } from "../../core/plan/commission.ts";
import { demoCommission } from "../../seeds/demo.ts";
import type { Seed } from "../../seeds/index.ts";
import type { DisplayMesh } from "../jobs/displayMesh.ts";
import type { Fresh, Holds } from "../jobs/ledger.ts";
import type {
	AnswerShown,
	AnswersShown,
	MapsShown,
	ScanShown,
	Standing,
	StoodUp,
	ThicknessShown,
} from "../jobs/shown.ts";
import { createByKey } from "./byKey.ts";
import { placementKey } from "./outdated.ts";
import type { History } from "./undo.ts";

export type WindowState = ReturnType<typeof createWindowState>;

export function createWindowState() {
	const history: Signal<History<Commission> | null> = signal(null);
	const scan: Signal<ScanShown | null> = signal(null);
	/** null until the first of them stands; then each key is a signal of its own. */
	const answers: Signal<Readonly<AnswersShown> | null> = signal(null);
	const answered = createByKey<AnswersShown>(NO_ANSWERS);
	/** By answer, whether the one that is shown is being worked out again, or for the first time. */
	const awaited = createByKey<Readonly<Record<AnswerName, boolean>>>(ALL_AWAITED);
	const mesh: Signal<DisplayMesh | null> = signal(null);
	const standing: Signal<Standing | null> = signal(null);
	const thickness: Signal<ThicknessShown | null> = signal(null);
	/** As `answers`, over the vertices of `mesh`. */
	const maps: Signal<Readonly<MapsShown> | null> = signal(null);
	const mapped = createByKey<MapsShown>(NO_MAPS);
	/** The mesh and the placement that the plan which is shown was worked out for. */
	const plannedFor: Signal<{ readonly mesh: DisplayMesh | null; readonly placement: string } | null> = signal(null);
	/** What the worker need not hand over again. */
	const holds = new Map<string, number>();
	/** Some of the answers belong to an earlier state of the commission. */
	const stale = signal(false);
	const openTrouble: Signal<string | null> = signal(null);
	const workTrouble: Signal<string | null> = signal(null);
	/** What is being opened, in words; null while nothing is. */
	const opens: Signal<string | null> = signal(null);
	/** The open scan came as a file that this window alone can read again, and only until it is closed. */
	const scanHeldHere = signal(false);
	/** A commission whose scan has not been found: the file name to look for. */
	const scanWanted: Signal<string | null> = signal(null);
	/** The demo whose scan is open: a file of the carver's own may have the same name. */
	const demo: Signal<Seed | null> = signal(null);

	const commission: ReadonlySignal<Commission | null> = computed(() => history.value?.present ?? null);
	/** What a commission on this scan holds before anything is changed: a demo's own wishes count as such. */
	const standard: ReadonlySignal<Commission | null> = computed(() => {
		const file = commission.value?.scan.file;
		if (file === undefined) return null;
		return demo.value ? demoCommission(demo.value) : newCommission(file);
	});

	const forgetMaps = (): void => {
		thickness.value = null;
		maps.value = null;
		mapped.write(NO_MAPS);
		for (const name of OVER_MESH) holds.delete(name);
	};

	return {
		history,
		commission,
		standard,
		scan,
		demo,
		answers,
		plan: computed(() => answers.value?.plan ?? null),
		awaited: awaited.read,
		mesh,
		plannedFor,
		standing,
		thickness,
		maps,
		stale,
		openTrouble,
		workTrouble,
		scanWanted,
		opens,
		scanHeldHere,
		units: computed(() => commission.value?.sheet.units ?? "mm"),
		holds: (): Holds => Object.fromEntries(holds),
		/** Every answer may have changed, until it is known which. */
		awaitAll: (): void => awaited.write(ALL_AWAITED),
		/** These are the answers to what was entered last. */
		stand: (names: readonly AnswerName[]): void =>
			awaited.write(Object.fromEntries(names.map((name) => [name, false]))),
		takeStood(fresh: Fresh<StoodUp>): void {
			if (fresh === null) return;
			batch(() => {
				forgetMaps();
				mesh.value = fresh.value.mesh;
				standing.value = fresh.value.standing;
			});
			holds.set("mesh", fresh.stamp);
		},
		takeThickness(fresh: Fresh<ThicknessShown>): void {
			if (fresh === null) return;
			thickness.value = fresh.value;
			holds.set("thickness", fresh.stamp);
		},
		takeAnswer({ name, page, waits, fresh }: AnswerShown): void {
			batch(() => {
				for (const [held, part] of fresh) {
					if (part === null) continue;
					holds.set(held, part.stamp);
					answered.write(part.value.answers);
					mapped.write(part.value.maps);
					if (Object.keys(part.value.maps).length > 0) maps.value = mapped.read;
				}
				const others = answered.read.waits.filter((wait) => wait.page !== page);
				if (waits.length > 0 || others.length < answered.read.waits.length)
					answered.write({ waits: [...others, ...waits.map((issue) => ({ page, issue }))] });
				answers.value = answered.read;
				awaited.write({ [name]: false });
				if (name === "plan") plannedFor.value = { mesh: mesh.value, placement: placementKey(answered.read.stone) };
			});
		},
		/** Every answer goes: they were about another scan. */
		forgetAnswers: (): void =>
			batch(() => {
				answers.value = null;
				answered.write(NO_ANSWERS);
				awaited.write(ALL_AWAITED);
				mesh.value = null;
				plannedFor.value = null;
				standing.value = null;
				forgetMaps();
				holds.clear();
			}),
	};
}

const NO_ANSWERS: AnswersShown = {
	model: null,
	resting: null,
	cast: null,
	stone: null,
	cuts: null,
	datumSets: [],
	plan: null,
	sizes: null,
	nature: null,
	finish: null,
	waits: [],
};
const NO_MAPS: MapsShown = { k1: null, k2: null, direction1: null, seatError: null, covers: [], gilded: null };
/** Held under these names, and gone with the mesh. */
const OVER_MESH = ["thickness", "field", "seatError", "rounds", "gilded"];
const ALL_AWAITED: Readonly<Record<AnswerName, boolean>> = {
	model: true,
	resting: true,
	cast: true,
	field: true,
	index: true,
	stone: true,
	cuts: true,
	datumSets: true,
	seatError: true,
	rounds: true,
	plan: true,
	sizes: true,
	finish: true,
	nature: true,
};
