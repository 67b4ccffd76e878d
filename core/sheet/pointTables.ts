/** The tables of the points, by lie, round and face in order of work. */

import type { Plan, PlanPoint } from "../plan/planFile.ts";
import { TABLE_WORDS } from "../text/tableWords.ts";
import { dot } from "../vector.ts";
import { text } from "./drawing.ts";
import { drawFace, faceNamed, faceWords, layFlat, type PlanFace, uRuns } from "./faceDrawing.ts";
import { lineHeight, newFlow, type SheetPage, type Slot } from "./flow.ts";
import { type Fonts, wrapText } from "./fontMetrics.ts";
import type { PaperSize } from "./paper.ts";
import { drilledFromFaces, farOutWords, pointColumns } from "./pointColumns.ts";
import { drawMark } from "./roundMarks.ts";
import { HATCHED_SAWN, zeroGoneWords } from "./sawnGround.ts";
import { BODY, bodyBold, quiet, RADDLE } from "./style.ts";
import { startTable } from "./table.ts";

/** Points that belong together in a table, with the words that head them. */
export interface PointGroup {
	readonly words: string;
	readonly round: number;
	/** The face from which the leans count; null where nothing is measured on a face. */
	readonly face: PlanFace | null;
	readonly points: readonly PlanPoint[];
}

/** The face from which a point's leans count: the one that is entered, or that was before its skin was joined away. */
function leanFace(plan: Plan, p: PlanPoint): PlanFace | null {
	const entered = faceNamed(plan, p.face);
	const { line, lean_deg: lean } = p;
	if (entered !== null || line === null || lean === null) return entered;
	// Among the faces as they came, the leans count from the one that the line is squarest to.
	return plan.stone.faces.reduce((best, f) => (dot(f.normal, line) > dot(best.normal, line) ? f : best));
}

/** Groups by lie, round and face, each in order of its numbers; points without a line are not drilled and stand in no table. */
export function groupPoints(plan: Plan, points: readonly PlanPoint[] = plan.points): PointGroup[] {
	const groups = new Map<string, PlanPoint[]>();
	const faces = drilledFromFaces(plan);
	const seats = plan.datumSets.length > 1 && (plan.transfer === "machine" || plan.transfer === "callipers");
	for (const p of [...points].sort((a, b) => a.number - b.number)) {
		if (p.line === null) continue;
		const where = faces ? `${leanFace(plan, p)?.name ?? ""}${p.face === null ? "!" : ""}` : "";
		const key = `${p.lie ?? -1}/${p.round}/${where}/${seats ? p.set : ""}`;
		const group = groups.get(key);
		if (group) group.push(p);
		else groups.set(key, [p]);
	}
	return [...groups.values()]
		.sort((a, b) => (a[0].lie ?? -1) - (b[0].lie ?? -1) || a[0].round - b[0].round || a[0].number - b[0].number)
		.map((group) => {
			const { lie, round, face: entered, set } = group[0];
			const face = faces ? leanFace(plan, group[0]) : null;
			const words = [lie === null ? "" : (plan.lies[lie]?.name ?? ""), plan.rounds[round].name];
			if (faces)
				words.push(entered === null ? `skin gone, leans from ${faceWords(face?.name ?? "")}` : faceWords(entered));
			if (seats) words.push(`set ${plan.datumSets[set].name}`);
			return { words: words.filter((w) => w !== "").join(" · "), round, face, points: group };
		});
}

export interface TableChoice {
	/** Those to be listed; all of the plan where nothing is said (a sheet of what is left lists fewer). */
	readonly points?: readonly PlanPoint[];
	/** Names the page of a number's map. */
	readonly mapPage?: (number: number) => string;
}

export interface TablePages {
	readonly pages: SheetPage[];
	/** Number of a point → index of its page among these. */
	readonly pageOf: ReadonlyMap<number, number>;
}

/** Room for the small face beside the head of a table, mm. */
const FACE_ROOM = { width: 34, height: 16 };

/** The table pages; none where no point has a line. */
export function pointTables(fonts: Fonts, plan: Plan, paper: PaperSize, choice: TableChoice = {}): TablePages {
	const columns = pointColumns(plan, choice.mapPage ?? null);
	const groups = groupPoints(plan, choice.points);
	const pageOf = new Map<number, number>();
	if (groups.length === 0) return { pages: [], pageOf };
	const least = columns.reduce((sum, c) => sum + c.width, 0) + 12;
	const flow = newFlow(fonts, paper, "Tables", least > 184 ? least : null);
	const how = TABLE_WORDS[plan.transfer](farOutWords(plan.sheet.units));
	flow.onPage((s) => {
		const lines = wrapText(fonts, how, s.width, BODY);
		for (const [i, words] of lines.entries()) text(s.on, s.x, s.y + BODY + lineHeight * i, words, quiet);
		return lines.length * lineHeight + 2.5;
	});
	for (const group of groups) {
		const table = startTable(flow, { columns, rowHeight: 6.4, over: overTable(plan, group) });
		flow.mark(group.words);
		for (const p of group.points) {
			table.row(columns.map((c) => c.cell(p)));
			pageOf.set(p.number, flow.pages.length - 1);
		}
		table.end();
		flow.gap(1);
	}
	return { pages: flow.pages, pageOf };
}

/** Over the columns: what is listed, and the face that it is measured on. */
function overTable(plan: Plan, { words, round, face }: PointGroup): { height: number; draw(s: Slot): void } {
	return {
		height: face === null ? 7.2 : FACE_ROOM.height,
		draw(s) {
			const y = s.y + (face === null ? 0 : FACE_ROOM.height - 8);
			drawMark(s.on, s.x + 2.4, y + 2.6, round, null, false, 1.7);
			text(s.on, s.x + 6, y + 4, words, { ...bodyBold, size: 3.7 });
			if (face === null) return;
			const flat = layFlat(plan, face);
			const scale = Math.min((FACE_ROOM.width - 12) / flat.width, (FACE_ROOM.height - 4.4) / flat.height);
			const x = s.x + s.width - 5 - flat.width * scale;
			const foot = s.y + FACE_ROOM.height - 4;
			drawFace(s.on, flat, x, foot, scale, { off: 2, reach: 8 });
			const seen = `seen from outside, u runs ${uRuns(flat)}`;
			const beside = x - (flat.right > 0 ? 4.5 : 7);
			text(s.on, beside, y + 4, seen, { ...quiet, anchor: "end" });
			if (flat.sawn) {
				text(s.on, beside, y - 0.4, HATCHED_SAWN, { ...quiet, anchor: "end" });
				if (flat.sawn.zeroBy)
					text(s.on, beside, y - 4.8, zeroGoneWords(flat.sawn.zeroBy), { ...bodyBold, colour: RADDLE, anchor: "end" });
			}
		},
	};
}
