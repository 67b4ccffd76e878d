/** The cut along the hole of the point that is pointed at, or was last. */

import { useSignal, useSignalEffect } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { sentenceIn } from "../../core/text/format.ts";
import { useSession } from "../state/context.ts";
import { pointed } from "../state/ui.ts";
import { Card } from "./Card.tsx";

/** A pointer on its way over the tape lights many points; the cut is made for the one on which it rests. ms */
const RESTS_AFTER = 160;

export function HoleCard() {
	const session = useSession();
	const plan = session.plan.value;
	const shown = useSignal<number | null>(null);
	const address = useSignal<string | null>(null);
	useSignalEffect(() => {
		if (pointed.value !== null) shown.value = pointed.value;
	});
	const number = shown.value;
	const point = plan?.points.find((one) => one.number === number);
	const drilled = point !== undefined && !point.undercut;
	useEffect(() => {
		if (number === null || !drilled) {
			address.value = null;
			return;
		}
		let running: ReturnType<typeof session.cutHole> | null = null;
		let made: string | null = null;
		const waits = setTimeout(() => {
			running = session.cutHole(number);
			running.promise.then(
				({ svg }) => {
					made = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
					address.value = made;
				},
				// A newer point or a newer plan takes its place.
				() => undefined,
			);
		}, RESTS_AFTER);
		return () => {
			clearTimeout(waits);
			running?.cancel();
			if (made !== null) URL.revokeObjectURL(made);
		};
	}, [number, plan, drilled]);
	if (!plan) return null;
	return (
		<Card title="The hole, cut open" shows={["plan"]} place="hole">
			{number === null && (
				<p class="reason">Point at a point, on the model, the tape or the list, to see its hole cut open.</p>
			)}
			{point?.undercut && (
				<p class="reason">
					{number} is an undercut and has no hole. {sentenceIn(session.units.value, point.reason)}
				</p>
			)}
			{drilled && address.value !== null && (
				<img
					class="section"
					src={address.value}
					alt={`Cut along the hole of point ${number}: finished surface, allowance, hole as aimed and at worst aim, the stop, and the place that stops the drill, with the numbers below.`}
				/>
			)}
		</Card>
	);
}
