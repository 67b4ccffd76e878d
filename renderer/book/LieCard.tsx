/** How the stone lies while its points are drilled: by the face that lies down, where no drill enters. */

import { useId } from "preact/hooks";
import { lieOn } from "../../core/drilling/lies.ts";
import { type Commission, FACES } from "../../core/plan/commission.ts";
import type { Plan } from "../../core/plan/planFile.ts";
import { shareText } from "../../core/text/format.ts";
import { faceThatIsDown, lieText, SIDES_TOLD } from "../../core/text/lieWords.ts";
import { useSession } from "../state/context.ts";
import { usePlanInTurn } from "../state/inTurn.ts";
import { Card } from "./Card.tsx";

type Lie = Commission["lies"][number];

const MOST_LIES = 6;

/** The proposal of the plan as the carver would write it. */
const proposed = (plan: Plan | null): readonly Lie[] =>
	(plan?.lies ?? []).map(({ name, openFaces }) => ({
		name,
		closedFace: faceThatIsDown(openFaces, plan?.stone.faces ?? []) ?? "bed",
	}));

export function LieCard() {
	const session = useSession();
	const id = useId();
	const own = (session.commission.value as Commission).lies;
	const plan = usePlanInTurn();
	const stone = session.answers.value?.stone;
	const faces: readonly string[] = stone?.stone.faces.map((face) => face.name) ?? FACES;
	/** The lie on a face, named by what the figure does in it. */
	const lieOnFace = (name: string): Lie => {
		const face = stone?.stone.faces.find((one) => one.name === name);
		return face && stone ? lieOn(face, stone.fit.placement.rotation) : { name: `on the ${name}`, closedFace: name };
	};
	const shown = own.length > 0 ? own : proposed(plan);
	const standard = session.standard.value?.lies ?? [];
	const changed = JSON.stringify(own) !== JSON.stringify(standard);
	const set = (words: string, lies: readonly Lie[]): void =>
		void session.change(words, (c) => ({ ...c, lies: [...lies] }));
	const told = (lie: number): string => {
		const known = plan?.lies[lie];
		if (!known || known.name !== shown[lie].name) return "";
		return `${known.points} points; ${shareText(known.reachedShare)} of the figure within reach${lie === 0 ? "" : " by now"}`;
	};
	return (
		<Card title="Lies of the stone" shows={["plan"]} place="lies">
			<p class="reason">
				{own.length > 0 ? "As you set them, in the order of work." : "Proposed. Change one and they are yours."}{" "}
				{SIDES_TOLD}
			</p>
			{shown.map((lie, i) => (
				<div class="entry" key={`${i} ${lie.closedFace}`}>
					<header>
						<h4>{lieText(lie.name, lie.closedFace)}</h4>
						{shown.length > 1 && (
							<button
								type="button"
								class="word"
								aria-label={`leave out the lie ${lie.name}`}
								onClick={() =>
									set(
										`leave out the lie ${lie.name}`,
										shown.filter((_, k) => k !== i),
									)
								}
							>
								leave out
							</button>
						)}
					</header>
					<p class="reason">{told(i)}</p>
					<div class="field">
						<label for={`${id}${i}`}>block's face down</label>
						<select
							id={`${id}${i}`}
							value={lie.closedFace}
							onChange={(event) => {
								const closedFace = event.currentTarget.value;
								const laid = lieOnFace(closedFace);
								set(
									`lay it ${laid.name}`,
									shown.map((one, k) => (k === i ? laid : one)),
								);
							}}
						>
							{faces.map((face) => (
								<option key={face} value={face}>
									{face}
								</option>
							))}
						</select>
					</div>
				</div>
			))}
			<div class="acts">
				<button
					type="button"
					class="act"
					disabled={shown.length === 0 || shown.length >= MOST_LIES}
					onClick={() => {
						const added = lieOnFace(faces.find((face) => !shown.some((lie) => lie.closedFace === face)) ?? faces[0]);
						set(`add the lie ${added.name}`, [...shown, added]);
					}}
				>
					Add a lie
				</button>
				{changed && (
					<button type="button" class="word" onClick={() => set("put the lies back", standard)}>
						put back
					</button>
				)}
			</div>
		</Card>
	);
}
