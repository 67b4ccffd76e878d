/** Cuts and bridges: what frees the figure, in order, and the stone that is kept until a round. */

import type { CutsAnswer } from "../../core/cuts/planCuts.ts";
import { SAWS, USUAL_SAWS } from "../../core/cuts/saws.ts";
import type { Commission } from "../../core/plan/commission.ts";
import { BAR_WORDS } from "../../core/text/cutWords.ts";
import { lengthText, massRangeText, shareText, sizeText } from "../../core/text/format.ts";
import { Select, Tick } from "../fields/Choice.tsx";
import { LengthField } from "../fields/LengthField.tsx";
import { NumberField } from "../fields/NumberField.tsx";
import { useSession } from "../state/context.ts";
import { changeCuts, cutShown, drawCut, dropOwn, moveOut, moveOwn, normalAt } from "../state/cuts.ts";
import { pickPlane, planePicked } from "../state/stance.ts";
import { picking } from "../state/ui.ts";
import { manyText } from "../words/health.ts";
import { BridgeList } from "./BridgeList.tsx";
import { Card, Figures } from "./Card.tsx";
import { CutFields } from "./CutFields.tsx";
import { CutLooked } from "./CutLooked.tsx";

export function CutsCard() {
	const session = useSession();
	const answer = session.answers.value?.cuts ?? null;
	const fits = session.answers.value?.stone?.fit.fits === true;
	const sawsAlong = picking.value?.kind === "plane" && picking.value.to === "saw";
	return (
		<Card title="Cuts and bridges" shows={["cuts"]} place="cuts">
			<p class="reason">
				Through cuts take the block down towards the figure, the one that frees most first; stop cuts go into hollows.
				No cut unless you ask for it.
			</p>
			<NoneAsked />
			<Sawing />
			{answer && answer.cuts.length > 0 && <CutTable answer={answer} />}
			{answer && <Outcome answer={answer} />}
			<CutLooked />
			{answer && answer.barred.length > 0 && <Barred answer={answer} />}
			<div class="acts">
				<button
					type="button"
					class="act"
					disabled={!fits}
					onClick={() => {
						// The back right edge lies farthest from the marked corner.
						void drawCut(session, normalAt(135, 0), 0);
						cutShown.value = null;
					}}
				>
					Draw a cut by hand
				</button>
				<button
					type="button"
					class="act"
					aria-pressed={sawsAlong}
					disabled={!fits}
					onClick={() => {
						if (sawsAlong) picking.value = null;
						else pickPlane("saw");
						cutShown.value = null;
					}}
				>
					{sawsAlong ? `Leave off (${planePicked(session).length} of 3)` : "Cut along three places"}
				</button>
			</div>
			<BridgeList />
		</Card>
	);
}

/** Whether to saw at all: what comes off by hand otherwise, what a cut is good for, and one to try. */
function NoneAsked() {
	const session = useSession();
	const stone = session.answers.value?.stone;
	const { cuts } = session.commission.value as Commission;
	if (!stone?.fit.fits || cuts.count > 0 || cuts.stopCuts > 0 || cuts.own.some((cut) => !cut.skipped)) return null;
	const { stoneMass: block, figureMass: figure, wasteShare } = stone;
	const waste =
		figure === null || wasteShare === null
			? "All that is not figure comes"
			: `${massRangeText(block[0] - figure[0], block[1] - figure[1])}, ${shareText(wasteShare)} of the stone, come`;
	return (
		<>
			<p class="answer" data-answer="no cuts">
				Nothing is sawn: {waste} off by drill and chisel.
			</p>
			<p class="reason">
				A through cut takes a flat piece off at once, and shortens every hole through its face. It pays where a saw is
				at hand and one cut frees a good share, as beside a slender figure or one that leans; round a blocky figure it
				seldom does. Try one: the table then says what it frees and weighs, and undo takes it back.
			</p>
			<div class="acts">
				<button
					type="button"
					class="act"
					onClick={() => changeCuts(session, "propose 1 cut", { count: 1 }, "cut count")}
				>
					See what one cut frees
				</button>
			</div>
		</>
	);
}

function Sawing() {
	const session = useSession();
	const { cuts } = session.commission.value as Commission;
	const usual = USUAL_SAWS[cuts.saw];
	const unit = session.units.value;
	return (
		<>
			<Select
				label="sawn with"
				value={cuts.saw}
				standard="bridge saw"
				options={SAWS.map((saw) => ({ value: saw, words: saw }))}
				onSet={(saw) =>
					changeCuts(session, `saw with a ${saw}`, {
						saw,
						allowance_mm: null,
						kerf_mm: null,
						reach_mm: null,
						disc_mm: null,
					})
				}
			/>
			<NumberField
				label="through cuts to propose"
				value={cuts.count}
				standard={0}
				least={0}
				most={24}
				whole
				onSet={(count) => changeCuts(session, `propose ${manyText(count, "cut")}`, { count }, "cut count")}
			/>
			<NumberField
				label="fields of stop cuts to propose"
				value={cuts.stopCuts}
				standard={0}
				least={0}
				most={12}
				whole
				onSet={(stopCuts) =>
					changeCuts(session, `propose ${manyText(stopCuts, "field")} of stop cuts`, { stopCuts }, "stop cuts")
				}
			/>
			{cuts.stopCuts > 0 && usual.disc !== null && (
				<LengthField
					label="disc across"
					mm={cuts.disc_mm ?? usual.disc}
					standard={usual.disc}
					least={80}
					most={4000}
					onSet={(mm) => changeCuts(session, `disc ${sizeText(mm, unit, 0)} across`, { disc_mm: mm }, "saw disc")}
				/>
			)}
			<LengthField
				label="stays over the figure"
				mm={cuts.allowance_mm ?? usual.allowance}
				standard={usual.allowance}
				least={5}
				most={300}
				onSet={(mm) =>
					changeCuts(session, `rough allowance ${sizeText(mm, unit)}`, { allowance_mm: mm }, "rough allowance")
				}
			/>
			<LengthField
				label="kerf"
				mm={cuts.kerf_mm ?? usual.kerf}
				standard={usual.kerf}
				least={0.5}
				most={30}
				onSet={(mm) => changeCuts(session, `kerf ${sizeText(mm, unit)}`, { kerf_mm: mm }, "kerf")}
			/>
			{Number.isFinite(usual.reach) && (
				<LengthField
					label="reaches from one side"
					mm={cuts.reach_mm ?? usual.reach}
					standard={usual.reach}
					least={10}
					most={5000}
					onSet={(mm) => changeCuts(session, `saw reach ${sizeText(mm, unit)}`, { reach_mm: mm }, "saw reach")}
				/>
			)}
			<Tick
				label="spare the marked corner"
				sentence="Until the axes have been scribed elsewhere."
				value={cuts.spareCorner}
				standard={true}
				onSet={(spareCorner) =>
					changeCuts(session, spareCorner ? "spare the marked corner" : "let the marked corner go", { spareCorner })
				}
			/>
		</>
	);
}

function CutTable({ answer }: { answer: CutsAnswer }) {
	return (
		<table class="list">
			<caption class="unseen">Cuts in order</caption>
			<thead>
				<tr>
					<th class="words" scope="col">
						cut
					</th>
					<th scope="col">comes off</th>
					<th scope="col">waste gone</th>
					<th scope="col">stands</th>
				</tr>
			</thead>
			<tbody>
				{answer.cuts.map((cut, k) => (
					<tr key={cut.name} class={cutShown.value === k ? "pointed" : ""}>
						<td class="words">
							<button
								type="button"
								class="word"
								aria-pressed={cutShown.value === k}
								onClick={() => {
									cutShown.value = cutShown.value === k ? null : k;
								}}
							>
								{cut.name}
								{cut.by === "hand" ? ", yours" : ""}
							</button>
						</td>
						<td>{massRangeText(...cut.mass)}</td>
						<td>{shareText(cut.share)}</td>
						<td class={cut.stands ? "" : "bad"}>{cut.stands ? "yes" : "prop it"}</td>
					</tr>
				))}
			</tbody>
		</table>
	);
}

function Outcome({ answer }: { answer: CutsAnswer }) {
	const session = useSession();
	const unit = session.units.value;
	const last = answer.cuts[answer.cuts.length - 1];
	return (
		<>
			{last && (
				<p class="answer" data-answer="cuts">
					{answer.cuts.length === 1 ? "1 cut frees" : `${answer.cuts.length} cuts free`} {shareText(last.share)} of what
					a saw could free.
				</p>
			)}
			<Figures
				rows={[
					["the stone then weighs", massRangeText(...answer.leftMass)],
					...answer.stopFields.map(
						(field) =>
							[
								`${field.name}: ${field.face.name}, ${field.kerfs.length} kerfs`,
								massRangeText(...field.mass),
								undefined,
								field.kerfs.map((kerf) => lengthText(kerf.depth, unit, 0)).join(", "),
							] as const,
					),
				]}
			/>
			<p class="reason">Depths of the drill lines are counted from the stone as it stands after these cuts.</p>
		</>
	);
}

function Barred({ answer }: { answer: CutsAnswer }) {
	const session = useSession();
	const unit = session.units.value;
	return (
		<ul class="plain">
			{answer.barred.map((cut) => (
				<li key={cut.own}>
					<p class={cut.bar === "skipped" ? "reason" : "trouble"}>
						{BAR_WORDS[cut.bar](lengthText(-cut.spare, unit), cut.nearest)}
					</p>
					{cut.bar !== "skipped" && (
						<CutFields
							normal={cut.plane.normal}
							spare={Math.max(0, cut.spare)}
							onMove={(normal, spare) => moveOwn(session, cut.own, normal, spare)}
						/>
					)}
					<div class="acts">
						{cut.bar === "too near" && (
							<button type="button" class="word" onClick={() => void moveOut(session, cut.own, -cut.spare)}>
								move it out by {lengthText(-cut.spare, unit)}
							</button>
						)}
						<button
							type="button"
							class="word"
							onClick={() =>
								void dropOwn(session, cut.own, cut.bar === "skipped" ? "propose a skipped cut again" : "take a cut out")
							}
						>
							{cut.bar === "skipped" ? "propose it again" : "take it out"}
						</button>
					</div>
				</li>
			))}
		</ul>
	);
}
