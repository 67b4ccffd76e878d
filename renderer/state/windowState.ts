/** What the window holds of one commission: its scan, what was entered, and the answers that were given to it. */

import { batch, computed, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import { type Commission, newCommission } from "../../core/plan/commission.ts";
import { demoCommission } from "../../seeds/demo.ts";
import type { Seed } from "../../seeds/index.ts";
import type { DisplayMesh } from "../jobs/displayMesh.ts";
import type { AnswersShown, MapsShown, ScanShown, Standing, ThicknessShown } from "../jobs/shown.ts";
import type { History } from "./undo.ts";

export type WindowState = ReturnType<typeof createWindowState>;

export function createWindowState() {
	const history: Signal<History<Commission> | null> = signal(null);
	const scan: Signal<ScanShown | null> = signal(null);
	const answers: Signal<AnswersShown | null> = signal(null);
	const mesh: Signal<DisplayMesh | null> = signal(null);
	const standing: Signal<Standing | null> = signal(null);
	const thickness: Signal<ThicknessShown | null> = signal(null);
	const maps: Signal<MapsShown | null> = signal(null);
	/** The answers belong to an earlier state of the commission. */
	const stale = signal(false);
	const openTrouble: Signal<string | null> = signal(null);
	const workTrouble: Signal<string | null> = signal(null);
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

	return {
		history,
		commission,
		standard,
		scan,
		demo,
		answers,
		plan: computed(() => answers.value?.plan ?? null),
		mesh,
		standing,
		thickness,
		maps,
		stale,
		openTrouble,
		workTrouble,
		scanWanted,
		units: computed(() => commission.value?.sheet.units ?? "mm"),
		/** Every answer goes: they were about another scan. */
		forgetAnswers: (): void =>
			batch(() => {
				answers.value = null;
				mesh.value = null;
				standing.value = null;
				thickness.value = null;
				maps.value = null;
			}),
	};
}
