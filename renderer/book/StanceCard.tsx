/** Which way up: turns by any angle, three places to stand on, and the faces on which the figure stands safely. */

import { useSignal } from "@preact/signals";
import { type RestingFace, restingStance } from "../../core/model/restingFaces.ts";
import type { Commission } from "../../core/plan/commission.ts";
import { NumberField } from "../fields/NumberField.tsx";
import { useSession } from "../state/context.ts";
import { asScanned, pickPlane, planePicked, type Turn, turnedStance, withStance } from "../state/stance.ts";
import { picking, setTrouble } from "../state/ui.ts";
import { faceWords, restingWords, standsOn } from "../words/resting.ts";
import { Card } from "./Card.tsx";

export const TURNS: readonly (readonly [Turn, string])[] = [
	["forward", "tip forward"],
	["back", "tip back"],
	["left", "tip left"],
	["right", "tip right"],
	["round", "turn round"],
];

export function StanceCard() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	const by = useSignal(90);
	const picks = picking.value?.kind === "plane" && picking.value.to === "stand";
	const stand = (words: string, recipe: (c: Commission) => Commission): void =>
		setTrouble("stance", session.change(words, recipe));
	const upright = asScanned(commission);
	return (
		<Card title="Which way up" shows={["resting"]} place="stance">
			<p class="reason">Seen from the front. The foot stands on the bed of the block, the face looks to the front.</p>
			<NumberField
				label="turn by"
				value={by.value}
				standard={90}
				unit="°"
				least={0.01}
				most={180}
				onSet={(degrees) => {
					by.value = degrees;
					return null;
				}}
			/>
			<div class="acts">
				{TURNS.map(([turn, words]) => (
					<button
						type="button"
						class="act"
						key={turn}
						onClick={() =>
							stand(`${words} ${by.value}°`, (c) =>
								withStance(c, turnedStance(c.model.stance, turn, by.value, c.scan.mirrored)),
							)
						}
					>
						{words}
					</button>
				))}
			</div>
			<div class="acts">
				<button
					type="button"
					class="act"
					aria-pressed={picks}
					disabled={!session.mesh.value}
					onClick={() => {
						if (picks) picking.value = null;
						else pickPlane("stand");
					}}
				>
					{picks ? `Leave off (${planePicked(session).length} of 3)` : "Stand it on three places"}
				</button>
				<button
					type="button"
					class="word"
					disabled={upright}
					onClick={() => stand("stand it as scanned", (c) => withStance(c, [0, 0, 0, 1]))}
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
			<RestingActs faces={resting.faces} />
		</>
	);
}

/** A button for each of the faces that stands the figure on it. */
export function RestingActs({ faces }: { faces: readonly RestingFace[] }) {
	const session = useSession();
	return (
		<div class="acts">
			{faces.map((face, i) => {
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
							setTrouble(
								"stance",
								session.change(`stand it ${faceWords(face.normal)}`, (c) =>
									withStance(c, restingStance(face.normal, c.model.stance, c.scan.mirrored)),
								),
							)
						}
					>
						{restingWords(face)}
					</button>
				);
			})}
		</div>
	);
}
