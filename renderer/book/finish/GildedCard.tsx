/** Areas to be gilded: brushed or filled on the banker, with the leaves that they take. */

import { LEAF_SIZES, leavesText } from "../../../core/finish/gilding.ts";
import type { Commission } from "../../../core/plan/commission.ts";
import { refusalText } from "../../../core/text/refusals.ts";
import { Choices, Tick } from "../../fields/Choice.tsx";
import { LengthField } from "../../fields/LengthField.tsx";
import { NumberField } from "../../fields/NumberField.tsx";
import { TextField } from "../../fields/TextField.tsx";
import { useSession } from "../../state/context.ts";
import { changeLeaf } from "../../state/finish.ts";
import { beginArea, goldBrush, nameArea, removeArea } from "../../state/gilding.ts";
import { picking } from "../../state/ui.ts";
import { Card } from "../Card.tsx";

export function GildedCard() {
	const session = useSession();
	const { finish } = session.commission.value as Commission;
	const standard = session.standard.value?.finish ?? finish;
	const found = session.answers.value?.finish?.gilded ?? [];
	const marking = picking.value?.kind === "gild" ? picking.value.area : null;
	const sums = found.flatMap(({ answer }) => (answer ? [answer] : []));
	const leaves = sums.reduce((sum, { leaf }) => sum + leaf.leaves, 0);
	const area = sums.reduce((sum, one) => sum + one.area, 0);
	return (
		<Card title="Gilded areas" shows={["finish"]} place="gilding">
			{finish.gilded.length === 0 ? (
				<p class="reason">None yet. Add one, and draw over the model on the banker what is to be gold.</p>
			) : (
				<p class="answer">
					{(area / 100).toFixed(0)} cm²: {leavesText({ leaves, books: Math.ceil(leaves / finish.leaf.perBook) })}
				</p>
			)}
			{finish.gilded.map((one, i) => (
				<div class="entry" key={`${i} ${one.name}`}>
					<TextField label="area" value={one.name} most={60} onSet={(name) => nameArea(session, i, name)} />
					<p class="reason">{areaWords(found[i])}</p>
					<div class="acts">
						<button
							type="button"
							class="act"
							aria-pressed={marking === i}
							onClick={() => {
								picking.value = marking === i ? null : { kind: "gild", area: i };
							}}
						>
							{marking === i ? "Done" : "Mark on the model"}
						</button>
						<button type="button" class="word" onClick={() => removeArea(session, i)}>
							remove
						</button>
					</div>
					{marking === i && <BrushTools />}
				</div>
			))}
			<div class="acts">
				<button type="button" class="act" disabled={!session.mesh.value} onClick={() => beginArea(session)}>
					Add an area
				</button>
			</div>
			{finish.gilded.length > 0 && (
				<details class="more">
					<summary>Leaf and order of work</summary>
					<LengthField
						label="side of a leaf"
						mm={finish.leaf.leaf_mm}
						standard={standard.leaf.leaf_mm}
						least={1}
						most={500}
						digits={2}
						onSet={(leaf_mm) => changeLeaf(session, "size of the leaf", { leaf_mm })}
					/>
					<p class="reason">{LEAF_SIZES.map(({ words }) => words).join("; ")}.</p>
					<LengthField
						label="overlap"
						mm={finish.leaf.overlap_mm}
						standard={standard.leaf.overlap_mm}
						most={100}
						onSet={(overlap_mm) => changeLeaf(session, "overlap of the leaves", { overlap_mm })}
					/>
					<NumberField
						label="waste"
						unit="share"
						value={finish.leaf.waste}
						standard={standard.leaf.waste}
						least={0}
						most={5}
						step={0.01}
						onSet={(waste) => changeLeaf(session, "waste of leaf", { waste })}
					/>
					<NumberField
						label="leaves in a book"
						value={finish.leaf.perBook}
						standard={standard.leaf.perBook}
						least={1}
						most={1000}
						whole
						onSet={(perBook) => changeLeaf(session, "leaves in a book", { perBook })}
					/>
					<p class="reason">
						The waste brings a book of 3 3/8 in to the 1.5 sq ft that a specification sheet gives it. Order of work,
						common practice: finish and wash the stone, let it dry through, seal, size, lay the leaf from the top down
						with the overlaps away from the eye, mend, burnish lightly, and handle it no more.
					</p>
				</details>
			)}
		</Card>
	);
}

type Found = NonNullable<NonNullable<ReturnType<typeof useSession>["answers"]["value"]>["finish"]>["gilded"][number];

function areaWords(found: Found | undefined): string {
	if (!found) return "being worked out";
	if (found.issue) return refusalText(found.issue);
	const { area, leaf, lost } = found.answer;
	const gone = lost.length > 0 ? ` ${lost.length} strokes have lost their surface since: mark that ground again.` : "";
	return area === 0
		? `Nothing marked yet.${gone}`
		: `${(area / 100).toFixed(1)} cm² on the surface itself: ${leavesText(leaf)}.${gone}`;
}

function BrushTools() {
	const { kind, radius_mm, crease_mm, adds } = goldBrush.value;
	const set = (change: Partial<typeof goldBrush.value>): null => {
		goldBrush.value = { ...goldBrush.value, ...change };
		return null;
	};
	return (
		<>
			<Choices
				inRow
				label="how it is marked"
				value={kind}
				options={[
					{ value: "brush", words: "brush" },
					{ value: "fill", words: "fill" },
				]}
				onSet={(next) => set(next === "fill" ? { kind: next, crease_mm: crease_mm ?? 6 } : { kind: next })}
			/>
			{kind === "brush" && (
				<LengthField
					label="radius of the brush"
					mm={radius_mm}
					least={0.5}
					most={1000}
					onSet={(mm) => set({ radius_mm: mm })}
				/>
			)}
			<Tick
				label="stop at creases"
				sentence="ground bent more tightly than the radius below"
				value={crease_mm !== null}
				onSet={(on) => set({ crease_mm: on ? 6 : null })}
			/>
			{crease_mm !== null && (
				<LengthField label="a crease is" mm={crease_mm} least={0.5} most={500} onSet={(mm) => set({ crease_mm: mm })} />
			)}
			<Tick label="take away instead" value={!adds} onSet={(on) => set({ adds: !on })} />
		</>
	);
}
