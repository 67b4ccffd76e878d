/** What the window asks about the answers that stand: drawings, quotes, readings, a place anew; none of it changes them. */

import type { ReadonlySignal } from "@preact/signals";
import type { QuickWishes } from "../../core/finish/quickQuote.ts";
import type { Progress } from "../../core/job.ts";
import type { Commission } from "../../core/plan/commission.ts";
import type { Placement } from "../../core/vector.ts";
import { Cancelled, type JobClient, type RunningJob } from "../jobs/jobClient.ts";
import type { AnewAsked, AnewShown, Jobs, MovedShown, SheetsOutput } from "../jobs/shown.ts";
import type { Running } from "./running.ts";
import { troubleWords } from "./troubleWords.ts";
import { setTrouble } from "./ui.ts";

export function createQuestions(
	commission: ReadonlySignal<Commission | null>,
	{ run }: Running,
	jobs: JobClient<Jobs>,
) {
	/** Where the figure settles near the place in which it is held; null when that was cancelled. */
	const settle = async (placement: Placement): Promise<Jobs["settle"]["output"] | null> => {
		const asked = commission.value;
		if (!asked) return null;
		try {
			return await jobs.run("settle", { commission: asked, placement }).promise;
		} catch (trouble) {
			if (trouble instanceof Cancelled) return null;
			setTrouble("hand", troubleWords(trouble));
			return null;
		}
	};

	/** The answer to a question about the commission as it stands; null when it was cancelled. */
	const orNothing = async <T>(
		ask: (asked: Commission) => Promise<T>,
		asked: Commission | null = commission.value,
	): Promise<T | null> => {
		if (!asked) return null;
		try {
			return await ask(asked);
		} catch (trouble) {
			if (trouble instanceof Cancelled) return null;
			throw new Error(troubleWords(trouble));
		}
	};
	const drawSheets = (): Promise<SheetsOutput | null> =>
		orNothing((asked) => run("sheets", { commission: asked }, "sheets"));
	const drawFullSize = (what: "templates" | "maps"): Promise<Jobs["fullSize"]["output"] | null> =>
		orNothing((asked) => run("fullSize", { commission: asked, what }, "sheets"));

	/** Offer and worksheet of the plan that stands, or of a first guess before any scan; null when it was cancelled. */
	const drawQuote = (asked: Commission, quick: QuickWishes | null): Promise<Jobs["quote"]["output"] | null> =>
		orNothing(() => run("quote", { commission: asked, quick }, "sheets"), asked);

	/** The cut along the hole of one point of the plan that stands, as SVG; it runs beside whatever else is worked out. */
	const cutHole = (number: number, onProgress: (progress: Progress) => void): RunningJob<{ readonly svg: string }> =>
		jobs.run("section", { commission: commission.value as Commission, number }, onProgress);

	/** The figure for the workers of the yard; it runs beside whatever else is worked out. */
	const askYardFigure = (scanned: boolean): RunningJob<Jobs["yardFigure"]["output"]> =>
		jobs.run("yardFigure", { commission: commission.value as Commission, scanned });

	/** Sheets of only what is left; null when it was cancelled. */
	const drawLeft = async (day: string): Promise<Uint8Array<ArrayBuffer> | null> => {
		const made = await orNothing((asked) => run("left", { commission: asked, day }, "sheets"));
		return made ? made.pdf : null;
	};

	/** Whether anything has moved, from the log as it stands. */
	const askMoved = (): RunningJob<MovedShown | null> =>
		jobs.run("moved", { commission: commission.value as Commission });

	/** The figure placed anew in the stone that is left; null when it was cancelled. */
	const askAnew = (wish: AnewAsked): Promise<AnewShown | null> =>
		orNothing((asked) => run("placeAnew", { commission: asked, asked: wish }, "planning"));

	return { settle, drawSheets, drawFullSize, drawQuote, cutHole, askYardFigure, drawLeft, askMoved, askAnew };
}
