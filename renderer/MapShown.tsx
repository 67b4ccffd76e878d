/** One map of the sheets in place of the banker, to look at before it is printed. */

import { useEffect, useState } from "preact/hooks";
import { sheetShown, sheets } from "./state/sheets.ts";

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
	return (
		<section class="map-shown" aria-label="map">
			<div class="acts">
				{maps.map((one, i) => (
					<button
						type="button"
						class="act"
						key={one.name}
						aria-pressed={i === at}
						onClick={() => {
							sheetShown.value = i;
						}}
					>
						{one.name}
					</button>
				))}
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
			{address !== null && <img src={address} alt={`Map of the points seen from the ${map.name}`} />}
		</section>
	);
}
