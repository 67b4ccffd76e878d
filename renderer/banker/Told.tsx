/** What is told of the point that is pointed at, beside it. */

import { sentenceIn, unitWord } from "../../core/text/format.ts";
import { useSession } from "../state/context.ts";
import { arePointsPutAway } from "../state/outdated.ts";
import { depthText, leanText, placeText, safeText } from "../state/points.ts";
import { page, pointed } from "../state/ui.ts";
import type { Banker } from "./banker.ts";

const WIDTH = 236;
const HEIGHT = 120;

export function Told({ banker, posed }: { banker: Banker; posed: number }) {
	void posed;
	const session = useSession();
	const plan = session.plan.value;
	const unit = session.units.value;
	const point = plan?.points.find((one) => one.number === pointed.value);
	if (!plan || !point || arePointsPutAway(session) || (page.value !== "points" && page.value !== "bench")) return null;
	const [x, y] = banker.toScreen(point.model_mm);
	const [width, height] = banker.size();
	const left = x + 22 + WIDTH > width ? x - 22 - WIDTH : x + 22;
	const top = Math.max(8, Math.min(height - HEIGHT - 8, y - 30));
	return (
		<div class="told" style={{ left: `${left}px`, top: `${top}px`, width: `${WIDTH}px` }}>
			<b>{point.number}</b> {plan.rounds[point.round].name}
			{point.undercut ? (
				<p>Undercut: {sentenceIn(unit, point.reason)}</p>
			) : (
				<dl class="figures">
					{point.face !== null && (
						<>
							<dt>{point.face}, u · v</dt>
							<dd>
								{placeText(point.u_mm, unit)} · {placeText(point.v_mm, unit)}
							</dd>
							<dt>leans</dt>
							<dd>
								{leanText(point, 0)} · {leanText(point, 1)}
							</dd>
						</>
					)}
					<dt>depth</dt>
					<dd>
						{depthText(point, unit)} {unitWord(unit)}
					</dd>
					<dt>safe to</dt>
					<dd>{safeText(point)}</dd>
				</dl>
			)}
		</div>
	);
}
