/** Page 4: the sheets that go to the bench, the bench view, the log. */

import { useEffect } from "preact/hooks";
import { type Commission, PAPERS } from "../../core/plan/commission.ts";
import { Select } from "../fields/Choice.tsx";
import { useSession } from "../state/context.ts";
import { type DrawnSheets, sheetShown, sheets, withSheet } from "../state/sheets.ts";
import { zipped } from "../zip.ts";
import { AnewCard } from "./AnewCard.tsx";
import { Card, Figures } from "./Card.tsx";
import { fileName } from "./fileName.ts";
import { Gradually } from "./Gradually.tsx";
import { BenchCard, LogCard, ProgressCard } from "./LogCards.tsx";
import { MovedCard } from "./MovedCard.tsx";
import { PaperAct, printedPaper, savedPaper } from "./papers.tsx";
import { MapsCard, RevisionFields } from "./SheetCards.tsx";
import { News, useTold } from "./told.tsx";
import { UnitsChoice } from "./UnitsChoice.tsx";

const bytesOf = (text: string): Uint8Array<ArrayBuffer> => new TextEncoder().encode(text) as Uint8Array<ArrayBuffer>;

export function BenchPage() {
	return (
		<Gradually>
			<PaperCard />
			<MapsCard />
			<SheetsCard />
			<BenchCard />
			<ProgressCard />
			<MovedCard />
			<AnewCard />
			<LogCard />
		</Gradually>
	);
}

function PaperCard() {
	const session = useSession();
	const { sheet } = session.commission.value as Commission;
	const standard = session.standard.value?.sheet ?? sheet;
	return (
		<Card title="Paper">
			<Select
				label="paper"
				value={sheet.paper}
				standard={standard.paper}
				options={PAPERS.map((paper) => ({ value: paper, words: paper }))}
				onSet={(paper) => session.change(`paper ${paper}`, (c) => withSheet(c, { paper }))}
			/>
			<UnitsChoice />
			<RevisionFields />
		</Card>
	);
}

function SheetsCard() {
	const session = useSession();
	const plan = session.plan.value;
	const { told, tell } = useTold("sheets");
	const commission = session.commission.value as Commission;
	const drawn = sheets.value?.plan === plan ? sheets.value : null;
	const ready = plan !== null && !session.stale.value;

	// Another plan, other sheets: the old ones must not be printed by mistake.
	useEffect(() => {
		if (sheets.value && sheets.value.plan !== plan) {
			sheets.value = null;
			sheetShown.value = null;
		}
		told.value = "";
	}, [plan]);

	const withSheets = (then: (made: DrawnSheets) => string | Promise<string>): Promise<void> =>
		tell(async () => {
			let made = drawn;
			if (!made && plan) {
				const output = await session.drawSheets();
				if (!output) return "";
				made = { ...output, plan };
				sheets.value = made;
			}
			return made ? then(made) : "";
		});
	const save = (
		ending: string,
		type: string,
		bytes: (made: DrawnSheets) => Uint8Array<ArrayBuffer> | Promise<Uint8Array<ArrayBuffer>>,
	) => withSheets(async (made) => savedPaper(fileName(commission.name, ending), await bytes(made), type));
	const saveFullSize = (what: "templates" | "maps"): Promise<void> =>
		tell(async () => {
			const made = await session.drawFullSize(what);
			if (made === null) return "";
			if (made.pdf === null) return "Nothing is entered from a face and no seat lies on one: there are no templates.";
			return savedPaper(fileName(commission.name, `-${what === "maps" ? "maps-full-size" : what}.pdf`), made.pdf);
		});
	const act = (words: string, then: () => void, main = false) => (
		<PaperAct words={words} ready={ready} main={main} then={then} />
	);
	return (
		<Card title="Sheets" place="sheets">
			{plan ? (
				<Figures
					rows={[
						["code of the plan", plan.code],
						["points", String(plan.points.length)],
						...(drawn ? ([["pages", String(drawn.pages)]] as const) : []),
					]}
				/>
			) : (
				<p class="reason">Sheets are drawn from a plan; it waits for model, stone and points.</p>
			)}
			{plan && !ready && <p class="reason">The plan is being worked out again; the sheets wait for it.</p>}
			<div class="acts">
				{act(
					"Look at the maps",
					() =>
						void withSheets((made) => {
							sheetShown.value = made.maps.length > 0 ? 0 : null;
							return "";
						}),
				)}
				{act("Print", () => void withSheets(({ pdf }) => printedPaper(pdf)))}
				{act("Save the PDF", () => void save(".pdf", "application/pdf", ({ pdf }) => pdf), true)}
			</div>
			<div class="acts">
				{act("Table (CSV)", () => void save("-points.csv", "text/csv", ({ csv }) => bytesOf(csv)))}
				{act("Plan (JSON)", () => void save("-plan.json", "application/json", ({ json }) => bytesOf(json)))}
				{act(
					"Maps (SVG)",
					() =>
						void save("-maps.zip", "application/zip", ({ maps }) =>
							zipped(maps.map(({ fileName: name, svg }) => ({ name, bytes: bytesOf(svg) }))),
						),
				)}
			</div>
			<div class="acts">
				{act("Templates (PDF)", () => void saveFullSize("templates"))}
				{act("Full-size maps (PDF)", () => void saveFullSize("maps"))}
			</div>
			<News words={told.value} />
		</Card>
	);
}
