/** One map of the sheets in place of the banker, to look at before it is printed. */

import { useEffect, useState } from "preact/hooks";
import { SIDE_WORDS } from "../core/text/sheetWords.ts";
import { sheetShown, sheets } from "./state/sheets.ts";

/** "seen from the front", or the name of a view that was added. */
const shownWords = (view: string): string => (Object.hasOwn(SIDE_WORDS, view) ? `seen from the ${view}` : view);

export function MapShown() {
	const at = sheetShown.value;
	const maps = sheets.value?.maps ?? [];
	const map = at === null ? undefined : maps[at];
	const [address, setAddress] = useState<string | null>(null);
	useEffect(() => {
		if (!map) {
			setAddress(null);
			return;
		}
		const made = URL.createObjectURL(new Blob([map.svg], { type: "image/svg+xml" }));
		setAddress(made);
		return () => URL.revokeObjectURL(made);
	}, [map]);
	if (!map || at === null) return null;
	const views = [...new Set(maps.map((one) => one.view))];
	const view = map.view;
	const ofView = maps.flatMap((one, i) => (one.view === view ? [i] : []));
	const place = ofView.indexOf(at);
	const show = (i: number | undefined): void => {
		if (i !== undefined) sheetShown.value = i;
	};
	return (
		<section class="map-shown" aria-label="map">
			<div class="acts">
				{views.map((one) => (
					<button
						type="button"
						class="act"
						key={one}
						aria-pressed={one === view}
						onClick={() => show(maps.findIndex((m) => m.view === one))}
					>
						{one}
					</button>
				))}
				<span class="turning">
					<button
						type="button"
						class="act"
						disabled={place === 0}
						aria-label="sheet before"
						onClick={() => show(ofView[place - 1])}
					>
						‹
					</button>
					sheet {place + 1} of {ofView.length}
					<button
						type="button"
						class="act"
						disabled={place === ofView.length - 1}
						aria-label="next sheet"
						onClick={() => show(ofView[place + 1])}
					>
						›
					</button>
				</span>
				<button
					type="button"
					class="act main"
					onClick={() => {
						sheetShown.value = null;
					}}
				>
					Back to the model
				</button>
			</div>
			{address !== null && (
				<img src={address} alt={`Map of the points ${shownWords(view)}, sheet ${place + 1} of ${ofView.length}`} />
			)}
		</section>
	);
}
