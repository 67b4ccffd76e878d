/** In place of the first screen while something is opened: what is being done and how far it is; the day book's foot stops it. */

import { shareText } from "../core/text/format.ts";
import { useSession } from "./state/context.ts";

export function Opening({ what }: { what: string }) {
	const working = useSession().working.value;
	const share = working?.share ?? 0;
	return (
		<main class="first" id="first">
			<div class="first-sheet">
				<h1>Puntello</h1>
				<p role="status">{what} …</p>
				<div class="work">
					<div class="work-words">
						<span>{working?.stage}</span>
						<span>{shareText(share)}</span>
					</div>
					<progress max={1} value={share} aria-label={what} />
				</div>
			</div>
		</main>
	);
}
