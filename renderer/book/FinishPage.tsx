/** Page 5, as far as it is worked out: what the figure weighs, where its weight acts, and what to mind. */

import { lengthText, massRangeText } from "../../core/text/format.ts";
import { CAUTION_LAST, cautionsFor } from "../../core/text/sheetWords.ts";
import { useSession } from "../state/context.ts";
import { Card, Figures } from "./Card.tsx";

export function FinishPage() {
	const session = useSession();
	const unit = session.units.value;
	const answers = session.answers.value;
	const model = answers?.model;
	const stone = answers?.stone;
	const figure = stone?.figureMass ? massRangeText(...stone.figureMass) : null;
	const kind = session.commission.value?.stone.kind ?? "";
	const cautions = [
		...(answers?.plan?.cautions ?? []).map((words) => ({ about: "This plan", words })),
		...(stone ? cautionsFor(kind, massRangeText(...stone.stoneMass), figure) : []),
	];
	return (
		<>
			<Card title="Weight">
				{stone?.figureMass && model?.centroid ? (
					<>
						<p class="answer">{massRangeText(...stone.figureMass)}</p>
						<p class="reason">The whole range of {kind}; the finished figure, dry, without pin or base.</p>
						<Figures
							rows={[
								["weight acts over the foot at", lengthText(model.centroid[2], unit)],
								["right of its middle", lengthText(model.centroid[0], unit)],
								["behind its middle", lengthText(model.centroid[1], unit)],
							]}
						/>
					</>
				) : (
					<p class="reason">
						{model && !model.closed
							? "The scan is an open shell: it holds no volume, so the figure has no weight until it is backed."
							: "Known once model and stone are."}
					</p>
				)}
			</Card>
			<Card title="Cautions">
				{cautions.length === 0 ? (
					<p class="reason">They come with the stone.</p>
				) : (
					<>
						{cautions.map(({ about, words }) => (
							<div class="entry" key={words}>
								<p>
									<b>{about}.</b> {words}
								</p>
							</div>
						))}
						<p class="news">{CAUTION_LAST}</p>
					</>
				)}
			</Card>
		</>
	);
}
