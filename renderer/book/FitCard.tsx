/** Does the figure fit, with what to spare, and what would fit better. */

import type { Commission } from "../../core/plan/commission.ts";
import { FIT_TOLERANCE } from "../../core/stone/fitBlock.ts";
import { lacksOf } from "../../core/stone/lacks.ts";
import { LEAST_OTHERS, lackWords, leastProof, noMarginWords } from "../../core/text/fitWords.ts";
import {
	finely,
	type LengthUnit,
	lengthNumber,
	lengthText,
	massRangeText,
	massText,
	orderNumber,
	shareText,
	sizeText,
	unitWord,
} from "../../core/text/format.ts";
import { lackText, overNumber, spareText } from "../../core/text/spare.ts";
import type { Vec3 } from "../../core/vector.ts";
import type { AnswersShown } from "../jobs/shown.ts";
import { useSession } from "../state/context.ts";
import { Card, Figures } from "./Card.tsx";
import { withStone } from "./withStone.ts";

const threeSides = (sides: Vec3, unit: LengthUnit, digits = 0): string =>
	`${sides.map((side) => lengthNumber(side, unit, digits)).join(" × ")} ${unitWord(unit)}`;

export function FitCard() {
	const session = useSession();
	const unit = session.units.value;
	const answers = session.answers.value;
	const stone = answers?.stone;
	if (!stone) return null;
	const { fit } = stone;
	const outOfTrue = session.commission.value?.stone.outOfTrue_mm ?? 0;
	const lacks = lacksOf(fit);
	const bare = noMarginWords(fit.gaps, outOfTrue / 2);
	const added = sizeText(outOfTrue / 2, unit);
	const tightest = fit.gaps.reduce((a, b) => (b.gap - b.margin < a.gap - a.margin ? b : a));
	return (
		<Card title="Does it fit?" shows={["stone", "sizes"]}>
			<p class={fit.fits ? "answer" : "answer bad"} data-answer="fit">
				{fit.fits
					? `Yes, with ${spareText(fit.spare, unit)} to spare over the margins.`
					: `No: with its margins the block is ${lackWords(lacks, unit)}.`}
			</p>
			{bare !== null && <p class="answer bad">{`${bare[0].toUpperCase()}${bare.slice(1)}.`}</p>}
			<p class="reason">{boundWords(stone.best, WAYS[stone.turning], unit, outOfTrue > 0, stone.scanned !== null)}</p>
			<table class="list">
				<caption class="unseen">Stone left at each face</caption>
				<thead>
					<tr>
						<th class="words" scope="col">
							face
						</th>
						<th scope="col">gap {unitWord(unit)}</th>
						<th scope="col">margin</th>
						<th scope="col">to spare</th>
					</tr>
				</thead>
				<tbody>
					{fit.gaps.map(({ face, gap, margin }) => (
						<tr key={face} class={face === tightest.face ? "pointed" : ""}>
							<td class="words">{face === tightest.face ? `${face}, tightest` : face}</td>
							<td title={`${gap} mm`}>{lengthNumber(gap, finely(unit))}</td>
							<td
								title={outOfTrue > 0 ? `${sizeText(margin - outOfTrue / 2, unit)} + ${added} out of true` : undefined}
							>
								{lengthNumber(margin, finely(unit))}
							</td>
							<td title={`${gap - margin} mm`}>{overNumber(gap - margin, unit)}</td>
						</tr>
					))}
				</tbody>
			</table>
			{outOfTrue > 0 && (
				<p class="reason">
					Each margin here is your own + {added}, half of what the stone is out of true ({sizeText(outOfTrue, unit)}).
				</p>
			)}
			{!fit.fits && lacks.length > 1 && (
				<p class="reason">What lacks along the block is shared by the two faces at its ends: each lacks half of it.</p>
			)}
			<SizesAnswer answers={answers} way={stone.turning} />
			<Figures
				rows={[
					["the stone weighs", massRangeText(...stone.stoneMass)],
					...(stone.stoneMassWet ? [["wet, at most", massText(stone.stoneMassWet[1])] as const] : []),
					...(stone.figureMassWet ? [["the figure wet, at most", massText(stone.figureMassWet[1])] as const] : []),
					...(stone.figureMass ? [["the figure weighs", massRangeText(...stone.figureMass)] as const] : []),
					...(stone.wasteShare === null ? [] : [["cut away", shareText(stone.wasteShare)] as const]),
				]}
			/>
		</Card>
	);
}

/** What is proved of the best placement; the bound lies within the tolerance of it, or is said with its gap. */
function boundWords(
	fit: { spare: number; bound: number; certified: boolean },
	way: string,
	unit: LengthUnit,
	sizesGiven: boolean,
	scanned: boolean,
): string {
	const limit =
		fit.bound < 0
			? fit.certified
				? `no ${way} lacks less than ${lackText(-fit.spare, unit)} at its tightest face, to within ${lengthText(FIT_TOLERANCE, finely(unit), 2)}`
				: `every ${way} lacks ${spareText(-fit.bound, unit)} or more at its tightest face`
			: `no ${way} spares over ${lackText(fit.bound, unit)}`;
	if (!fit.certified && scanned)
		return `In a stone with hollows the placement is found by search and measured on both scans; proved, by the stone's hull: ${limit}.`;
	const proved = sizesGiven ? "Proved for the sizes given" : "Proved";
	return fit.certified ? `${proved}: ${limit}.` : `As far as it was searched, ${limit}.`;
}

const WAYS: Readonly<Record<Commission["stone"]["turning"], string>> = {
	"as stood": "place of it as it stands",
	upright: "upright placement",
	tipped: "placement within that angle of upright",
	free: "placement",
};

function SizesAnswer({ answers, way }: { answers: AnswersShown; way: keyof typeof WAYS }) {
	const session = useSession();
	const unit = session.units.value;
	const { sizes, model } = answers;
	if (!sizes) return null;
	const { largest, smallest, turned } = sizes;
	return (
		<>
			{turned && (
				<p class="news" role="status">
					It fits with the block stood another way, {lengthText(turned.sides[2], unit, 0)} up:{" "}
					{spareText(turned.spare, unit)} to spare.{" "}
					<button
						type="button"
						class="word"
						onClick={() =>
							void session.change(`stand the block ${lengthText(turned.sides[2], unit, 0)} high`, (c) =>
								withStone(c, { block_mm: [...turned.sides] }),
							)
						}
					>
						stand it so
					</button>
				</p>
			)}
			<Figures
				rows={[
					...(largest && model
						? ([
								[
									"largest that fits",
									`${lengthText(largest.scale * model.size[2], unit, 0)} high`,
									undefined,
									`${shareText(largest.scale, 2)} of the present size${largest.certified ? ", proved" : ""}`,
								],
							] as const)
						: []),
					[
						"block of least volume",
						threeSides(smallest.sides, finely(unit), 1),
						undefined,
						leastProof(smallest.certified, WAYS[way]),
					],
					[
						"as sawn, to order",
						`${smallest.sawn.map((side) => orderNumber(side, unit)).join(" × ")} ${unitWord(unit)}`,
					],
				]}
			/>
			<p class="reason">{LEAST_OTHERS} Only the volume is proved least: type the sides of yours to see.</p>
			<div class="acts">
				<button
					type="button"
					class="word"
					onClick={() =>
						session.change("take the smallest sawn block", (c) =>
							withStone(c, { given: "sides", block_mm: [...smallest.sawn], breaks: [], byHand: null }),
						)
					}
				>
					take that block
				</button>
			</div>
		</>
	);
}
