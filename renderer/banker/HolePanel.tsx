/** The cut along the hole of the point that was clicked, beside list and tape, until another is clicked or it is put away. */

import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { Progress } from "../../core/job.ts";
import { sentenceIn, shareText } from "../../core/text/format.ts";
import { Cancelled } from "../jobs/jobClient.ts";
import { useSession } from "../state/context.ts";
import { AGAIN, arePointsOld } from "../state/outdated.ts";
import { troubleWords } from "../state/troubleWords.ts";
import { holeShown, page } from "../state/ui.ts";

/** Keys held down pass over many points; the cut is made for the one on which they rest. ms */
const RESTS_AFTER = 120;

type Drawing =
	| { readonly kind: "drawing"; readonly progress: Progress }
	| { readonly kind: "drawn"; readonly address: string }
	| { readonly kind: "failed"; readonly words: string };

const BEGUN: Drawing = { kind: "drawing", progress: { stage: "", share: 0 } };

export function HolePanel() {
	const number = holeShown.value;
	return number === null || page.value !== "points" ? null : <Hole number={number} />;
}

function Hole({ number }: { number: number }) {
	const session = useSession();
	const plan = session.plan.value;
	const drawing = useSignal<Drawing>(BEGUN);
	const point = plan?.points.find((one) => one.number === number);
	const isDrilled = point !== undefined && !point.undercut;
	const old = arePointsOld(session);
	useEffect(() => {
		if (!isDrilled || old) return;
		drawing.value = BEGUN;
		let running: ReturnType<typeof session.cutHole> | null = null;
		let made: string | null = null;
		const waits = setTimeout(() => {
			running = session.cutHole(number, (progress) => {
				if (drawing.peek().kind === "drawing") drawing.value = { kind: "drawing", progress };
			});
			running.promise.then(
				({ svg }) => {
					made = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
					drawing.value = { kind: "drawn", address: made };
				},
				(trouble) => {
					// A newer point or a newer plan takes its place.
					if (!(trouble instanceof Cancelled)) drawing.value = { kind: "failed", words: troubleWords(trouble) };
				},
			);
		}, RESTS_AFTER);
		return () => {
			clearTimeout(waits);
			running?.cancel();
			if (made !== null) URL.revokeObjectURL(made);
		};
	}, [number, plan, isDrilled, old]);
	if (!plan) return null;
	const now = drawing.value;
	return (
		<section class={old ? "hole-panel old-points" : "hole-panel"} aria-label="The hole, cut open">
			<header>
				<h3>Point {number}, its hole cut open</h3>
				<button
					type="button"
					class="word"
					aria-label="put the hole away"
					onClick={() => {
						holeShown.value = null;
					}}
				>
					put away
				</button>
			</header>
			{old && <p role="status">{AGAIN}</p>}
			{!point && <p class="reason">The plan has no point {number}.</p>}
			{point?.undercut && (
				<p class="reason">
					{number} is an undercut and has no hole. {sentenceIn(session.units.value, point.reason)}
				</p>
			)}
			{isDrilled && now.kind === "drawing" && !old && (
				<div class="work" role="status">
					<div class="work-words">
						<span>{now.progress.stage || "drawing the hole"}</span>
						<span>{shareText(now.progress.share)}</span>
					</div>
					<progress max={1} value={now.progress.share} aria-label="drawing the hole" />
				</div>
			)}
			{isDrilled && now.kind === "failed" && <p class="trouble">{now.words}</p>}
			{isDrilled && now.kind === "drawn" && (
				<img
					src={now.address}
					alt={`Cut along the hole of point ${number}: finished surface, allowance, hole as aimed and at worst aim, the stop, and the place that stops the drill, with the numbers below.`}
				/>
			)}
		</section>
	);
}
