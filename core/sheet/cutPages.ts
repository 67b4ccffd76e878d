/** The cuts of the sheet: what is sawn with, a drawing of every cut with its marks and cautions, and the faces that are left. */

import { type ConvexSolid, cutBy, solidOf } from "../cuts/convexSolid.ts";
import type { Plan } from "../plan/planFile.ts";
import type { TriangleMesh } from "../scan/mesh.ts";
import { cutCautions, liftWords, PROP_WORDS, STAND_WORDS, sidesWords } from "../text/cutWords.ts";
import { lengthNumber, lengthText, massRangeText, shareText } from "../text/format.ts";
import { silicaWords } from "../text/sheetWords.ts";
import { dot, type Placement, place } from "../vector.ts";
import { drawCut, markLetter, outlineIn, viewOf } from "./cutDrawing.ts";
import { cutFaceSketches } from "./cutFaces.ts";
import { text } from "./drawing.ts";
import { type Flow, lineHeight, newFlow, type SheetPage } from "./flow.ts";
import { type Fonts, wrapText } from "./fontMetrics.ts";
import type { PaperSize } from "./paper.ts";
import { stopCutPages } from "./stopCutPages.ts";
import { BODY, body, bodyBold, quiet, RADDLE } from "./style.ts";
import { startTable } from "./table.ts";

const PICTURE_WIDTH = 92;
const PICTURE_HEIGHT = 74;

type PlanCut = Plan["cuts"][number];

/** No pages where nothing is sawn. */
export function cutPages(fonts: Fonts, plan: Plan, mesh: TriangleMesh, paper: PaperSize): SheetPage[] {
	const { saw } = plan;
	if (saw === null || plan.cuts.length + plan.stopCuts.length === 0) return [];
	const flow = newFlow(fonts, paper, "Cuts");
	flow.heading("Roughing out", 40);
	for (const words of introduction(plan)) flow.paragraph(words);
	flow.gap(2);
	if (plan.cuts.length > 0) overview(flow, plan);
	let solid: ConvexSolid | null = solidOf({
		faces: plan.stone.faces.map((face) => ({
			name: face.name,
			normal: face.normal,
			offset: dot(face.normal, face.origin_mm),
			outline: face.outline_mm,
		})),
	});
	for (const cut of plan.cuts) {
		if (solid === null) break;
		oneCut(flow, plan, cut, solid, mesh);
		const [nx, ny, nz, offset] = cut.plane;
		solid = cutBy(solid, { normal: [nx, ny, nz], offset }, cut.name);
	}
	stopCutPages(flow, plan);
	cutFaceSketches(flow, plan);
	return [...flow.pages];
}

function introduction(plan: Plan): string[] {
	const units = plan.sheet.units;
	const { saw, cuts, afterCuts } = plan;
	if (saw === null || afterCuts === null) return [];
	const reach = saw.reach_mm === null ? "goes through" : `reaches ${lengthText(saw.reach_mm, units, 0)} from one side`;
	const last = cuts.at(-1);
	return [
		`${cuts.length === 1 ? "One through cut" : `${cuts.length === 0 ? "No" : cuts.length} through cuts`} with a ${saw.kind} (kerf ${lengthText(saw.kerf_mm, units)}, ${reach}). None comes nearer to the hull of the figure, its bosses and bridges than ${lengthText(saw.allowance_mm, units)} and half the kerf.${last ? ` Together they free ${shareText(last.wasteShare)} of what a saw could free.` : ""} After all cuts the stone weighs ${massRangeText(...afterCuts.mass_kg)} dry.`,
		"The line on the stone is the face that stays: join the marks with a straightedge, run the saw on the waste side, leave the line. The depths of the drill lines count from the stone as it stands after these cuts. Measure each face when it is sawn; where it lies deeper than its line, enter the cut as it was sawn and print anew before anything is drilled through it.",
		"Before the first cut scribe the axes of every face on what stays, and drill the seats: once its zero corner is sawn off, a face is measured from the scribed lines.",
	];
}

function overview(flow: Flow, plan: Plan): void {
	const table = startTable(flow, {
		columns: [
			{ head: ["cut"], width: 18, align: "left", bold: true },
			{ head: ["comes off, dry"], width: 44, align: "right" },
			{ head: ["waste gone"], width: 26, align: "right" },
			{ head: ["from"], width: 26, align: "left" },
			{ head: ["the stone after it"], width: 0, align: "left" },
		],
	});
	for (const cut of plan.cuts)
		table.row([
			cut.name,
			massRangeText(...cut.removedRange_kg),
			shareText(cut.wasteShare),
			cut.sides === null ? "no reach" : cut.sides === 1 ? "one side" : "two sides",
			cut.stands ? "stands by itself" : "PROP IT: no longer stands",
		]);
	table.end();
}

function oneCut(flow: Flow, plan: Plan, cut: PlanCut, solid: ConvexSolid, mesh: TriangleMesh): void {
	const units = plan.sheet.units;
	const view = viewOf([cut.plane[0], cut.plane[1], cut.plane[2]]);
	const beside = flow.columnWidth - PICTURE_WIDTH - 4;
	const said = wordsBeside(plan, cut).map(({ words, look }) => ({
		look,
		lines: wrapText(flow.fonts, words, beside, BODY, look.bold),
	}));
	const marks = cut.marks.map(({ edge, from, distance_mm }, i) => ({
		letter: markLetter(i),
		words: `${edge}: ${lengthNumber(distance_mm, units)} from ${from}`,
	}));
	const tall = Math.max(
		PICTURE_HEIGHT + lineHeight,
		marks.length * lineHeight + said.reduce((sum, s) => sum + s.lines.length * lineHeight + 1, 2),
	);
	const cautions = cautionLines(flow, plan);
	flow.heading(`${cut.name}${cut.by === "hand" ? ", drawn by hand" : ""}`, tall + cautions.length * lineHeight);
	const s = flow.take(tall + 1, cautions.length * lineHeight);
	const placement = plan.stone.placement as unknown as Placement;
	const figure = outlineIn(mesh.positions, (px, py, pz) => {
		const at = place(placement, [px, py, pz]);
		return [dot(view.right, at), dot(view.up, at)];
	});
	drawCut(s.on, { solid, cut, view, figure }, s.x, s.y, PICTURE_WIDTH, PICTURE_HEIGHT);
	text(
		s.on,
		s.x + PICTURE_WIDTH / 2,
		s.y + PICTURE_HEIGHT + BODY,
		`seen from ${view.words}, from above; dotted: the figure`,
		{ ...quiet, anchor: "middle" },
	);
	const x = s.x + PICTURE_WIDTH + 4;
	let y = s.y + BODY;
	for (const { letter, words } of marks) {
		text(s.on, x, y, letter, { ...bodyBold, colour: RADDLE });
		text(s.on, x + 4, y, words, body);
		y += lineHeight;
	}
	y += 2;
	for (const { look, lines } of said) {
		for (const l of lines) {
			text(s.on, x, y, l, look);
			y += lineHeight;
		}
		y += 1;
	}
	for (const l of cautions) {
		const row = flow.take(lineHeight);
		text(row.on, row.x, row.y + BODY, l, quiet);
	}
}

function wordsBeside(plan: Plan, cut: PlanCut): { words: string; look: typeof body }[] {
	const units = plan.sheet.units;
	const reach = lengthText(plan.saw?.reach_mm ?? 0, units, 0);
	const warn = { ...bodyBold, colour: RADDLE };
	const over = cut.spare_mm > 0.05 ? `, and ${lengthText(cut.spare_mm, units)} more` : "";
	return [
		{
			words: `Off comes ${massRangeText(...cut.removedRange_kg)} dry; ${shareText(cut.wasteShare)} of the waste is then gone. Nearest under the cut: ${cut.nearest}${over}.`,
			look: body,
		},
		{ words: sidesWords(cut.sides, reach), look: cut.sides === null ? warn : body },
		{ words: PROP_WORDS[cut.loose], look: warn },
		{ words: liftWords(cut.removedRange_kg[1]), look: body },
		{ words: cut.stands ? STAND_WORDS.firm : STAND_WORDS.loose, look: cut.stands ? body : warn },
	];
}

function cautionLines(flow: Flow, plan: Plan): string[] {
	if (plan.saw === null) return [];
	return cutCautions(plan.saw.kind, silicaWords(plan.stone.kind)).flatMap(({ about, words }) =>
		wrapText(flow.fonts, `${about}: ${words}`, flow.columnWidth, BODY),
	);
}
