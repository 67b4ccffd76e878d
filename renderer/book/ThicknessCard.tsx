/** How thick the figure is, and its thin parts one by one. */

import { SLENDER, THIN_MM } from "../../core/drilling/thinParts.ts";
import { lengthText, sizeText } from "../../core/text/format.ts";
import { useSession } from "../state/context.ts";
import { colouring } from "../state/ui.ts";
import { manyText } from "../words/health.ts";
import { Card } from "./Card.tsx";
import { Steps } from "./Steps.tsx";

export function ThicknessCard() {
	const session = useSession();
	const unit = session.units.value;
	const found = session.thickness.value;
	if (!found) return null;
	const { parts } = found;
	const known = found.thickness.some((t) => !Number.isNaN(t));
	const shown = colouring.value.kind === "thickness";
	const rule = `under ${sizeText(THIN_MM, unit, 0)}, or more than ${SLENDER} times as long as thick`;
	return (
		<Card title="Thickness" place="thickness">
			{!known ? (
				<p class="reason">Behind an open shell the stone does not end, so it has no thickness. Give it a back first.</p>
			) : parts.length === 0 ? (
				<p class="answer">No thin parts: nothing {rule}.</p>
			) : (
				<>
					<p class="answer">
						{manyText(parts.length, "thin part")}, {lengthText(parts[0].thinnest, unit)} at the thinnest.
					</p>
					<p class="reason">
						{rule[0].toUpperCase() + rule.slice(1)}. No hammer action there, and two drill diameters of stone behind
						every hole.
					</p>
					<Steps what="thin" name="thin parts" />
				</>
			)}
			{known && (
				<div class="acts">
					<button
						type="button"
						class="act"
						aria-pressed={shown}
						onClick={() => {
							colouring.value = shown ? { kind: "plaster" } : { kind: "thickness" };
						}}
					>
						show the thickness
					</button>
				</div>
			)}
		</Card>
	);
}
