/**
 * Full-size templates of the stone's faces, to be taped on the stone: where every drill line enters and where the seats lie.
 * Drawn as the face is seen from outside, never mirrored.
 */

import { type Job, within } from "../job.ts";
import type { Plan } from "../plan/planFile.ts";
import { lengthText } from "../text/format.ts";
import { arrow, type Drawing, disc, line, newDrawing, polygon, text } from "./drawing.ts";
import { drawSawn, facesOf, faceWords, type LaidFace, layFlat, type PlanFace, zeroWords } from "./faceDrawing.ts";
import { isUsed } from "./faceSketches.ts";
import { shownSets } from "./faces.ts";
import type { SheetPage } from "./flow.ts";
import { type Fonts, textWidth } from "./fontMetrics.ts";
import { placeLabels } from "./labels.ts";
import { PAPER_SIZES } from "./paper.ts";
import { roundColour } from "./roundMarks.ts";
import { HATCHED_SAWN } from "./sawnGround.ts";
import { type FontFiles, readFonts, writePdf } from "./sheetPdf.ts";
import { body, CAP_HEIGHT, INK, NUMERAL, PAPER, RADDLE, SLATE } from "./style.ts";
import { tilePages } from "./tiles.ts";

export interface TemplateInput {
	readonly plan: Plan;
	readonly fonts: FontFiles;
}

export interface Templates {
	readonly pdf: Uint8Array;
	readonly pages: number;
}

/** Room around the face for its arrows, mm. */
const AROUND = 14;
const STAGE = "drawing the templates";

/** A PDF with the template of every face that is entered or holds a seat; null where there is none. */
export function* drawTemplates(input: TemplateInput): Job<Templates | null> {
	const { plan } = input;
	const fonts = readFonts(input.fonts);
	const paper = PAPER_SIZES[plan.sheet.paper];
	const faces = facesOf(plan).filter((face) => isUsed(plan, face));
	if (faces.length === 0) return null;
	const pages: SheetPage[] = [];
	for (const [i, face] of faces.entries()) {
		const note = "full size: measure both bars, never print scaled";
		pages.push(...tilePages(fonts, paper, faceTemplate(fonts, plan, face), note));
		yield { stage: STAGE, share: (0.5 * (i + 1)) / faces.length };
	}
	const set = { what: "templates", subject: "Full-size templates of the stone's faces" };
	const pdf = yield* within(writePdf(fonts, input.fonts, plan, pages, set), 0.5, 1);
	return { pdf, pages: pages.length };
}

interface Entry {
	readonly words: string;
	readonly u: number;
	readonly v: number;
	readonly radius: number;
	readonly colour: string;
}

const entriesOn = (plan: Plan, face: string): Entry[] =>
	plan.points.flatMap((p) =>
		p.face === face && p.u_mm !== null && p.v_mm !== null
			? [
					{
						words: String(p.number),
						u: p.u_mm,
						v: p.v_mm,
						radius: plan.rounds[p.round].tool.radius_mm,
						colour: roundColour(p.round),
					},
				]
			: [],
	);

const seatsOn = (plan: Plan, face: string): Entry[] =>
	shownSets(plan).flatMap((set) =>
		set.datums
			.filter((d) => d.face === face)
			.map((d) => ({ words: d.name, u: d.u_mm, v: d.v_mm, radius: 4, colour: RADDLE })),
	);

/** One face at 1:1; mm of paper are mm of stone. */
function faceTemplate(fonts: Fonts, plan: Plan, face: PlanFace): Drawing {
	const flat = layFlat(plan, face);
	const named = faceWords(face.name);
	const on = newDrawing(flat.width + 2 * AROUND, flat.height + 2 * AROUND, `Template: ${named}`);
	const put = (x: number, y: number): readonly [number, number] => [
		AROUND + x - flat.low[0],
		AROUND + flat.height - (y - flat.low[1]),
	];
	const at = (u: number, v: number): readonly [number, number] => put(flat.right * u, v);
	const outline = flat.corners.flatMap(([x, y]) => put(x, y));
	polygon(on, outline, { pen: { colour: INK, width: 0.25 } });
	drawSawn(on, flat, put, 1);
	zeroCorner(on, plan, at, flat.right, flat);
	const size = `${lengthText(flat.width, plan.sheet.units)} × ${lengthText(flat.height, plan.sheet.units)}`;
	text(on, AROUND, AROUND - 2, `${named}, ${size}`, { ...body, colour: SLATE });
	const marks = [...entriesOn(plan, face.name), ...seatsOn(plan, face.name)];
	const wishes = marks.map((m) => {
		const [x, y] = at(m.u, m.v);
		const width = textWidth(fonts, m.words, NUMERAL) + 0.5;
		return { x, y, radius: m.radius + 1.6, width, height: NUMERAL * CAP_HEIGHT + 0.7 };
	});
	const frame = { x0: 1, y0: 1, x1: on.width - 1, y1: on.height - 1 };
	const labels = placeLabels(wishes, frame, []);
	marks.forEach((m, i) => {
		const { x, y } = wishes[i];
		const pen = { colour: m.colour, width: 0.18 };
		disc(on, x, y, m.radius, { pen, fill: PAPER });
		// The cross runs out of the hole, so that it can still be seen when the hole is begun.
		const reach = m.radius + 1.5;
		line(on, pen, x - reach, y, x + reach, y);
		line(on, pen, x, y - reach, x, y + reach);
		const l = labels[i];
		if (!l) return;
		if (l.leader) line(on, pen, ...l.leader);
		text(on, (l.box.x0 + l.box.x1) / 2, (l.box.y0 + l.box.y1) / 2 + (NUMERAL * CAP_HEIGHT) / 2, m.words, {
			size: NUMERAL,
			colour: m.colour,
			anchor: "middle",
		});
	});
	return on;
}

function zeroCorner(
	on: Drawing,
	plan: Plan,
	at: (u: number, v: number) => readonly [number, number],
	right: 1 | -1,
	flat: LaidFace,
): void {
	const [zx, zy] = at(0, 0);
	polygon(on, [zx, zy, zx + 6 * right, zy, zx, zy - 6], { fill: RADDLE });
	const pen = { colour: RADDLE, width: 0.4 };
	const look = { ...body, bold: true, colour: RADDLE };
	arrow(on, pen, zx, zy + 4, zx + right * 30, zy + 4, 3);
	text(on, zx + right * 32, zy + 5.2, "u", { ...look, anchor: right > 0 ? "start" : "end" });
	arrow(on, pen, zx - right * 4, zy, zx - right * 4, zy - 30, 3);
	text(on, zx - right * 4, zy - 32, "v", { ...look, anchor: "middle" });
	const words = `${zeroWords(flat)}${flat.sawn ? `; ${HATCHED_SAWN}` : ""} · revision ${plan.sheet.revision}`;
	text(on, zx, zy + 10, words, { ...look, anchor: right > 0 ? "start" : "end" });
}
