/** Goes through the places of a finding one by one; the banker shows each. */

import { useSession } from "../state/context.ts";
import { goOn, stopsOf } from "../state/stops.ts";
import { type SteppedThrough, stepping } from "../state/ui.ts";
import { countText } from "../words/health.ts";

/** `name` says what it steps through, for those who hear the button; `total` counts places, also those past the last one shown. */
export function Steps({ what, name, total }: { what: SteppedThrough; name: string; total?: number }) {
	const session = useSession();
	const stops = stopsOf(session, what);
	if (stops.length === 0) return null;
	const all = total ?? stops.length;
	const now = stepping.value?.what === what ? stepping.value : null;
	const stop = now && stops[now.at];
	if (!now || !stop)
		return (
			<button
				type="button"
				class="word"
				aria-label={`show ${name} on the banker`}
				onClick={() => goOn(session, what, 1)}
			>
				{all === 1 ? "show it" : `show the ${countText(all)} places`}
			</button>
		);
	const more = all > stops.length ? `, the largest ${countText(stops.length)} of ${countText(all)}` : "";
	return (
		<div class="steps" data-steps={what}>
			<p class="reason" role="status">
				{countText(now.at + 1)} of {countText(stops.length)}
				{more}: {stop.words}
			</p>
			<div class="acts">
				{stops.length > 1 && (
					<>
						<button
							type="button"
							class="act"
							aria-label={`${name}: place before`}
							onClick={() => goOn(session, what, -1)}
						>
							before
						</button>
						<button type="button" class="act" aria-label={`${name}: next place`} onClick={() => goOn(session, what, 1)}>
							next
						</button>
					</>
				)}
				<button
					type="button"
					class="word"
					onClick={() => {
						stepping.value = null;
					}}
				>
					leave off
				</button>
			</div>
		</div>
	);
}
