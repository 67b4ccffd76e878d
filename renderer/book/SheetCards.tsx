/** What the sheets say of their revision, and which maps they have. */

import type { Commission } from "../../core/plan/commission.ts";
import { viewWords } from "../../core/sheet/aslant.ts";
import { unit } from "../../core/vector.ts";
import { LengthField } from "../fields/LengthField.tsx";
import { TextField } from "../fields/TextField.tsx";
import { useSession } from "../state/context.ts";
import { withSheet } from "../state/sheets.ts";
import { Card } from "./Card.tsx";

type Sheet = Commission["sheet"];

export function RevisionFields() {
	const session = useSession();
	const { sheet } = session.commission.value as Commission;
	const standard = session.standard.value?.sheet ?? sheet;
	const set = (words: string, change: Partial<Sheet>): string | null =>
		session.change(words, (c) => withSheet(c, change));
	return (
		<>
			<TextField
				label="revision"
				value={sheet.revision}
				standard={standard.revision}
				most={4}
				onSet={(revision) => set(`revision ${revision}`, { revision })}
			/>
			<TextField
				label="supersedes"
				value={sheet.supersedes}
				mayBeEmpty
				most={4}
				onSet={(supersedes) =>
					set(supersedes === "" ? "supersedes nothing" : `supersedes ${supersedes}`, { supersedes })
				}
			/>
			<TextField
				label="what changed"
				value={sheet.changes}
				mayBeEmpty
				most={400}
				onSet={(changes) => set("what changed", { changes })}
			/>
			<TextField
				label="date on the sheet"
				type="date"
				value={sheet.date}
				mayBeEmpty
				most={20}
				onSet={(date) => set(date === "" ? "no date on the sheet" : `date ${date}`, { date })}
			/>
		</>
	);
}

export function MapsCard() {
	const session = useSession();
	const { views, contour_mm: contour } = (session.commission.value as Commission).sheet;
	const set = (words: string, change: Partial<Sheet>): string | null =>
		session.change(words, (c) => withSheet(c, change));
	return (
		<Card title="Maps">
			<LengthField
				label="contour lines every"
				mm={contour}
				empty="about thirty"
				least={0.1}
				most={1000}
				onSet={(contour_mm) => set("contour step", { contour_mm })}
			/>
			{contour !== null && (
				<div class="acts">
					<button
						type="button"
						class="act"
						onClick={() => void set("about thirty contour lines", { contour_mm: null })}
					>
						About thirty lines instead
					</button>
				</div>
			)}
			{views.map((view, i) => (
				<div class="added-view" key={`${i} ${view.towards.join(" ")}`}>
					<TextField
						label={`view ${i + 1}`}
						value={view.name}
						most={40}
						onSet={(name) => set(`view ${name}`, { views: views.map((one, k) => (k === i ? { ...one, name } : one)) })}
					/>
					<p class="reason">{viewWords(unit(view.towards))}</p>
					<div class="acts">
						<button
							type="button"
							class="act"
							onClick={() => void set(`take away ${view.name}`, { views: views.filter((_, k) => k !== i) })}
						>
							Take away {view.name}
						</button>
					</div>
				</div>
			))}
			<p class="reason">
				The six sides have a map wherever they show points. For another view, turn the banker to it and press “add as a
				map”.
			</p>
		</Card>
	);
}
