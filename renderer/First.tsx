/** The first screen: what can be opened, with one sentence each. */

import { useSignal } from "@preact/signals";
import { seeds } from "../seeds/index.ts";
import { OpenFile } from "./book/OpenFile.tsx";
import { QuickQuote } from "./QuickQuote.tsx";
import { useSession } from "./state/context.ts";
import { recents } from "./state/ui.ts";

/** Commissions shown at first; the older ones on request. */
const SHOWN = 6;

export function First() {
	const session = useSession();
	const all = useSignal(false);
	const trouble = session.openTrouble.value;
	const wanted = session.scanWanted.value;
	return (
		<div class="first" id="first">
			<div class="first-sheet">
				<h1>Puntello</h1>
				<p>
					{wanted === null
						? "From a scan to a numbered map of drill points, for carvers who copy a model into stone."
						: `The commission is here, but its scan, ${wanted}, was not found where it was. Open it again and the work goes on.`}
				</p>
				{trouble !== null && (
					<p class="trouble" role="alert">
						{trouble}
					</p>
				)}
				{recents.value.length > 0 && <h2>On the banker lately</h2>}
				{recents.value.slice(0, all.value ? undefined : SHOWN).map((recent, i) => (
					<div class="offer" key={recent.id}>
						<h3>{recent.name}</h3>
						<p>
							{recent.scan}, {whenWords(recent.changed)}
						</p>
						<button
							type="button"
							class={i === 0 ? "act main" : "act"}
							aria-label={`Go on with ${recent.name}`}
							onClick={() => void session.openRecent(recent.id)}
						>
							Go on
						</button>
					</div>
				))}
				{!all.value && recents.value.length > SHOWN && (
					<button
						type="button"
						class="word"
						onClick={() => {
							all.value = true;
						}}
					>
						{recents.value.length - SHOWN} older
					</button>
				)}
				<h2>{recents.value.length > 0 ? "Begin another" : "Begin"}</h2>
				<div class="offer">
					<h3>{wanted === null ? "Your own scan" : wanted}</h3>
					<p>An STL or PLY mesh in any unit; drop it anywhere on this window, or choose it.</p>
					<OpenFile words="Open a scan" main={recents.value.length === 0} />
				</div>
				<QuickQuote />
				<h2>Try it on a made-up commission</h2>
				{seeds.map((seed) => (
					<div class="offer" key={seed.name}>
						<h3>{seed.title}</h3>
						<p>{seed.sentence}</p>
						<button
							type="button"
							class="act"
							aria-label={`Open ${seed.title}`}
							onClick={() => void session.openDemo(seed.name)}
						>
							Open
						</button>
					</div>
				))}
			</div>
		</div>
	);
}

const whenWords = (changed: string): string => {
	const at = new Date(changed);
	return Number.isNaN(at.getTime())
		? changed
		: at.toLocaleString(undefined, { dateStyle: "medium", timeStyle: "short" });
};
