/** Which way up: quarter turns, and the faces on which the figure stands safely. */

import { restingStance } from "../../core/model/restingFaces.ts";
import type { Commission } from "../../core/plan/commission.ts";
import { useSession } from "../state/context.ts";
import { type QuarterTurn, turnedStance } from "../state/stance.ts";
import { faceWords, restingWords, standsOn } from "../words/resting.ts";
import { Card } from "./Card.tsx";

type Stance = Commission["model"]["stance"];

const withStance = (c: Commission, stance: Stance): Commission => ({ ...c, model: { ...c.model, stance } });

const TURNS: readonly (readonly [QuarterTurn, string])[] = [
	["forward", "tip forward"],
	["back", "tip back"],
	["left", "tip left"],
	["right", "tip right"],
	["round", "turn round"],
];

export function StanceCard() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	const upright = commission.model.stance.join() === "0,0,0,1";
	return (
		<Card title="Which way up">
			<p class="reason">Seen from the front. The foot stands on the bed of the block, the face looks to the front.</p>
			<div class="acts">
				{TURNS.map(([turn, words]) => (
					<button
						type="button"
						class="act"
						key={turn}
						onClick={() =>
							session.change(`${words} a quarter`, (c) => withStance(c, turnedStance(c.model.stance, turn)))
						}
					>
						{words}
					</button>
				))}
			</div>
			<div class="acts">
				<button
					type="button"
					class="word"
					disabled={upright}
					onClick={() => session.change("stand it as scanned", (c) => withStance(c, [0, 0, 0, 1]))}
				>
					as scanned
				</button>
			</div>
			<Resting />
		</Card>
	);
}

function Resting() {
	const session = useSession();
	const resting = session.answers.value?.resting;
	if (!resting) return null;
	if (resting.faces.length === 0)
		return (
			<p class="reason">It stands safely on none of its faces: give it a foot, or stand it with stone left under it.</p>
		);
	return (
		<>
			<p class="reason">
				Where it would rest by itself, the safest first
				{resting.weighed === "area" && ", weighed as a shell of even thickness"}:
			</p>
			<div class="acts">
				{resting.faces.map((face, i) => {
					const stands = standsOn(face.normal);
					return (
						<button
							type="button"
							class="act"
							key={`${i} ${face.normal.join()}`}
							aria-pressed={stands}
							// The faces are those of the stance that was worked out last.
							disabled={stands || session.stale.value}
							onClick={() =>
								session.change(`stand it ${faceWords(face.normal)}`, (c) =>
									withStance(c, restingStance(face.normal, c.model.stance, c.scan.mirrored)),
								)
							}
						>
							{restingWords(face)}
						</button>
					);
				})}
			</div>
		</>
	);
}
