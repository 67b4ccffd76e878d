/** What is being worked out and how far it is, with the way to stop it; or that the answers are old. */

import { shareText } from "../../core/text/format.ts";
import { useSession } from "../state/context.ts";

const WHAT = { opening: "opening", planning: "working out", sheets: "drawing" } as const;

export function Work() {
	const session = useSession();
	const working = session.working.value;
	const trouble = session.workTrouble.value;
	const stale = session.stale.value && session.commission.value !== null && session.scan.value !== null;
	return (
		<div
			class="book-foot"
			data-work={working ? working.what : stale ? "stopped" : session.scan.value ? "done" : "nothing"}
		>
			{working ? (
				<>
					<div class="work">
						<div class="work-words">
							<span>{working.stage || WHAT[working.what]}</span>
							<span>{shareText(working.share)}</span>
						</div>
						<progress max={1} value={working.share} aria-label={working.stage || WHAT[working.what]} />
					</div>
					<button type="button" class="act" onClick={session.cancel}>
						Stop
					</button>
				</>
			) : trouble ? (
				<p class="trouble work" role="alert">
					{trouble}
				</p>
			) : stale ? (
				<>
					<span class="work" role="status">
						Stopped: answers that are hatched are from before the last change.
					</span>
					<button type="button" class="act" onClick={session.rework}>
						Work it out
					</button>
				</>
			) : (
				<span class="reason" role="status">
					{session.commission.value ? "Everything is worked out." : "Nothing is open."}
				</span>
			)}
		</div>
	);
}
