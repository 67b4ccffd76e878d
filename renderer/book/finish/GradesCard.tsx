/** The chain of grades: what is wanted, what each takes off, and whether the last allowance is enough for it. */

import { ABRASIVE_KINDS } from "../../../core/finish/abrasives.ts";
import { LAST_GRIT, POLISHES, type Polish } from "../../../core/finish/grades.ts";
import { gradeName, grainText, TROUBLE_WORDS } from "../../../core/finish/gradeWords.ts";
import type { Commission } from "../../../core/plan/commission.ts";
import { lengthNumber, lengthText, unitWord } from "../../../core/text/format.ts";
import { refusalText } from "../../../core/text/refusals.ts";
import { Choices } from "../../fields/Choice.tsx";
import { LengthField } from "../../fields/LengthField.tsx";
import { NumberField } from "../../fields/NumberField.tsx";
import { useSession } from "../../state/context.ts";
import { changePart } from "../../state/finish.ts";
import { Card, Figures } from "../Card.tsx";

const SENTENCES: Readonly<Record<Polish, string>> = {
	"as carved": "the marks of the tools stay",
	matt: "to P220",
	satin: "to P400",
	gloss: "to P1000, then polishing powder",
};

export function GradesCard() {
	const session = useSession();
	const { finish } = session.commission.value as Commission;
	const standard = session.standard.value?.finish ?? finish;
	const found = session.answers.value?.finish;
	const unit = session.units.value;
	const chain = found?.grades.answer;
	const { rates } = (session.commission.value as Commission).quote;
	const area = (mm2: number): string => `${(mm2 / 1e4).toFixed(1)} dm²`;
	const hours = found ? (found.ground.open * rates.gradeHours + found.ground.detail * rates.detailHours) / 1e4 : 0;
	const sheets = found ? Math.ceil((found.ground.open + found.ground.detail) / 1e4 / rates.sheetArea) : 0;
	return (
		<Card title="Grades" shows={["finish"]} place="grades">
			<Choices
				label="polish wanted"
				value={finish.polish}
				standard={standard.polish}
				options={POLISHES.map((value) => ({ value, words: value, sentence: SENTENCES[value] }))}
				onSet={(polish) => changePart(session, `polish ${polish}`, "finish", { polish })}
			/>
			{found?.grades.issue && <p class="trouble">{refusalText(found.grades.issue)}</p>}
			{chain && chain.steps.length === 0 && <p class="answer">No grades: left as carved.</p>}
			{chain && chain.steps.length > 0 && (
				<>
					<p class={chain.sound ? "answer" : "answer bad"}>
						{chain.fits
							? `${lengthText(chain.takes, unit, 2)} of the last ${lengthText(chain.allowance, unit, 2)}`
							: `${lengthText(chain.takes, unit, 2)} are needed, ${lengthText(chain.allowance, unit, 2)} are left`}
						{chain.fits && !chain.sound ? ", but not every step holds" : ""}
					</p>
					<p class="reason">
						{chain.fits
							? "Tool marks and every scratch but the last come off inside what the last round leaves."
							: "Leave more stone in the last round, or begin from finer tool marks."}
					</p>
					<table class="list">
						<caption class="unseen">Grades in the order of work</caption>
						<thead>
							<tr>
								<th class="words" scope="col">
									grade
								</th>
								<th scope="col">grain</th>
								<th scope="col" title="of the grade before, in this one's grains">
									step
								</th>
								<th scope="col">takes off {unitWord(unit)}</th>
								<th scope="col">hours</th>
								<th scope="col">sheets</th>
								{finish.abrasives.length > 0 && (
									<th scope="col">
										<span class="unseen">remove</span>
									</th>
								)}
							</tr>
						</thead>
						<tbody>
							{chain.steps.map(({ abrasive, grain, ratio, takes, troubles }, i) => (
								<tr key={`${abrasive.kind} ${abrasive.grit} ${i}`}>
									<td class={troubles.some((one) => one !== "memory") ? "words bad" : "words"}>
										{gradeName(abrasive)}
									</td>
									<td>{grainText(grain)}</td>
									<td class={troubles.includes("step") ? "bad" : ""}>{ratio === null ? "" : ratio.toFixed(2)}</td>
									<td>{lengthNumber(takes, unit, 2)}</td>
									<td>{hours.toFixed(1)}</td>
									<td>{sheets}</td>
									{finish.abrasives.length > 0 && (
										<td>
											<button
												type="button"
												class="word"
												aria-label={`remove ${abrasive.kind} ${abrasive.grit}`}
												onClick={() =>
													changePart(session, `remove ${abrasive.kind} ${abrasive.grit}`, "finish", {
														abrasives: finish.abrasives.filter((_, k) => k !== i),
													})
												}
											>
												remove
											</button>
										</td>
									)}
								</tr>
							))}
						</tbody>
					</table>
					{chain.steps.flatMap(({ abrasive, troubles }, i) =>
						troubles.map((one) => (
							<p class="reason" key={`${i} ${one}`}>
								{gradeName(abrasive)}: {TROUBLE_WORDS[one]}.
							</p>
						)),
					)}
				</>
			)}
			{found && (
				<Figures
					rows={[
						["open ground", area(found.ground.open)],
						["detail, folded in by hand", area(found.ground.detail)],
						["foot, not finished", area(found.ground.foot)],
					]}
				/>
			)}
			<AddAbrasive />
			<details class="more">
				<summary>What the chain rests on</summary>
				<p class="reason">
					Grains of papers from published tables (P grades, FEPA and ISO 6344); of pads from memory. The figures below
					are guesses until you change them.
				</p>
				{LAST_GRIT[finish.polish] !== null && finish.abrasives.length === 0 && (
					<NumberField
						label="first paper"
						value={finish.firstGrit}
						standard={standard.firstGrit}
						least={1}
						most={10000}
						whole
						onSet={(firstGrit) => changePart(session, `first paper ${firstGrit}`, "finish", { firstGrit })}
					/>
				)}
				<NumberField
					label="largest step"
					value={finish.ratio}
					standard={standard.ratio}
					least={1.01}
					most={20}
					step={0.1}
					onSet={(ratio) => changePart(session, `largest step ${ratio}`, "finish", { ratio })}
				/>
				<LengthField
					label="marks of the last tool"
					mm={finish.marks_mm}
					standard={standard.marks_mm}
					most={20}
					digits={2}
					onSet={(marks_mm) => changePart(session, "depth of the tool marks", "finish", { marks_mm })}
				/>
				<NumberField
					label="depth of a scratch"
					unit="grains"
					value={finish.scratchShare}
					standard={standard.scratchShare}
					least={0.01}
					most={2}
					step={0.1}
					onSet={(scratchShare) => changePart(session, "depth of a scratch", "finish", { scratchShare })}
				/>
				<NumberField
					label="a grade can take off"
					unit="grains"
					value={finish.grainsOff}
					standard={standard.grainsOff}
					least={0.1}
					most={100}
					onSet={(grainsOff) => changePart(session, "what a grade can take off", "finish", { grainsOff })}
				/>
				<LengthField
					label="detail is bent tighter than"
					mm={finish.detailRadius_mm}
					standard={standard.detailRadius_mm}
					least={0.1}
					most={500}
					onSet={(detailRadius_mm) => changePart(session, "radius of detail", "finish", { detailRadius_mm })}
				/>
			</details>
		</Card>
	);
}

/** Own abrasives take the place of the proposed chain, in the order in which they are put down. */
function AddAbrasive() {
	const session = useSession();
	const { finish } = session.commission.value as Commission;
	const add = (form: HTMLFormElement): void => {
		const data = new FormData(form);
		const kind = ABRASIVE_KINDS.find((one) => one === data.get("kind")) ?? "paper";
		const grit = Number(data.get("grit"));
		const own = String(data.get("grain") ?? "").trim();
		const grain_um = own === "" ? null : Number(own.replace(",", "."));
		const abrasive = { kind, grit, wet: data.get("wet") !== null, grain_um };
		if (changePart(session, `add ${kind} ${grit}`, "finish", { abrasives: [...finish.abrasives, abrasive] }) === null)
			form.reset();
	};
	return (
		<details class="more">
			<summary>{finish.abrasives.length === 0 ? "Use my own abrasives" : "Add an abrasive"}</summary>
			<p class="reason">Put them down in the order of work; they take the place of the proposed chain.</p>
			<form
				onSubmit={(event) => {
					event.preventDefault();
					add(event.currentTarget);
				}}
			>
				<div class="field">
					<label for="own-kind">kind</label>
					<select id="own-kind" name="kind">
						{ABRASIVE_KINDS.map((kind) => (
							<option key={kind}>{kind}</option>
						))}
					</select>
				</div>
				<div class="field">
					<label for="own-grit">number on its back</label>
					<input id="own-grit" name="grit" type="number" min={1} max={100000} required data-writing />
				</div>
				<div class="field">
					<label for="own-grain">grain in µm, if you know it</label>
					<input id="own-grain" name="grain" inputMode="decimal" data-writing />
				</div>
				<label class="choice">
					<input type="checkbox" name="wet" />
					<span>wet</span>
				</label>
				<div class="acts">
					<button type="submit" class="act">
						Add
					</button>
					{finish.abrasives.length > 0 && (
						<button
							type="button"
							class="word"
							onClick={() => changePart(session, "go back to the proposed chain", "finish", { abrasives: [] })}
						>
							back to the proposed chain
						</button>
					)}
				</div>
			</form>
		</details>
	);
}
