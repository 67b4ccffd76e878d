/** The cover: what the sheets are for, how the figure lies in the stone, seats, lies, rounds, how to read them, cautions. */

import type { Plan } from "../plan/planFile.ts";
import { noMarginWords } from "../text/fitWords.ts";
import {
	angleText,
	depthNumber,
	finely,
	lengthNumber,
	lengthText,
	massRangeText,
	sentenceIn,
	shareText,
	sizeNumber,
	sizeText,
	unitWord,
} from "../text/format.ts";
import { faceThatIsDown, lieText, SIDES_TOLD } from "../text/lieWords.ts";
import { CAUTION_LAST, cautionsFor, columnWords, TRANSFER_WORDS } from "../text/sheetWords.ts";
import { line, text } from "./drawing.ts";
import { fact, noted } from "./facts.ts";
import type { FigureLines } from "./figureLines.ts";
import { writeFinish } from "./finishFacts.ts";
import type { Flow } from "./flow.ts";
import { wrapText } from "./fontMetrics.ts";
import { drawPlacement } from "./placementDrawing.ts";
import { farOutWords } from "./pointColumns.ts";
import { drawMark } from "./roundMarks.ts";
import { body, bodyBold, quiet, RADDLE, raddlePen, title } from "./style.ts";
import { startTable } from "./table.ts";

export interface CoverViews {
	readonly front: FigureLines;
	readonly top: FigureLines;
}

export function writeCover(flow: Flow, plan: Plan, views: CoverViews): void {
	titleBlock(flow, plan);
	facts(flow, plan);
	flow.heading("How the figure lies in the stone", 70);
	drawPlacement(flow, plan, views);
	lies(flow, plan);
	rounds(flow, plan);
	reading(flow, plan);
	writeFinish(flow, plan);
	cautions(flow, plan);
}

function titleBlock(flow: Flow, plan: Plan): void {
	const lines = wrapText(flow.fonts, plan.name, flow.columnWidth, title.size, true);
	for (const l of lines) {
		const s = flow.take(title.size * 1.2);
		text(s.on, s.x, s.y + title.size * 0.95, l, title);
	}
	const date = plan.sheet.date === "" ? "" : ` · ${plan.sheet.date}`;
	const s = flow.take(9);
	text(
		s.on,
		s.x,
		s.y + 5,
		`Point map and drilling tables · plan ${plan.code} · revision ${plan.sheet.revision}${date}`,
		body,
	);
	line(s.on, raddlePen, s.x, s.y + 7.6, s.x + s.width, s.y + 7.6);
	if (plan.sheet.supersedes !== "")
		flow.paragraph(
			`Supersedes ${plan.sheet.supersedes}: sheets of that revision are no longer good; take them off the bench.`,
			{
				...bodyBold,
				colour: RADDLE,
			},
		);
	if (plan.sheet.changes !== "") flow.paragraph(`What changed: ${plan.sheet.changes}`, bodyBold);
	if (plan.model.mirrored)
		flow.paragraph("MIRRORED: the stone is the mirror image of the scan.", { ...bodyBold, colour: RADDLE });
}

/** Whole number with its thousands set off. */
const thousands = (n: number): string => String(n).replace(/\B(?=(\d{3})+$)/g, ",");

function facts(flow: Flow, plan: Plan): void {
	const { model, stone } = plan;
	const units = plan.sheet.units;
	const triple = (v: readonly number[], digits = 0): string =>
		`${v.map((n) => lengthNumber(n, units, digits)).join(" × ")} ${unitWord(units)}`;
	flow.gap(1.5);
	fact(flow, "On the bench", TRANSFER_WORDS[plan.transfer].bench);
	const scale =
		(model.scale === 1 ? "" : `, stone ÷ scan ${model.scale}`) +
		(model.benchScale === 1 ? "" : `, stone ÷ bench model ${model.benchScale}`);
	fact(flow, "Scan", `${model.scan}, unit ${model.unit}${scale}, ${thousands(model.triangles)} triangles`);
	fact(flow, "Figure", `${triple(model.size_mm)}, as it stands in the stone`);
	const assumed = stone.blockAssumed ? " (assumed: the smallest sawn block, none was given)" : "";
	const shape = stone.block_mm
		? `${triple(stone.block_mm)}${stone.planes ? `, ${stone.faces.length} faces as broken or measured` : ""}`
		: `offcut of ${stone.faces.length} faces within ${triple(stone.extent_mm)}`;
	fact(
		flow,
		stone.block_mm ? "Block" : "Stone",
		`${stone.kind}, ${shape}${assumed}, ${massRangeText(...stone.stone_kg)}`,
	);
	fact(flow, "Fit", fitWords(plan), !stone.fits);
	if (stone.figure_kg) fact(flow, "Figure's mass", massRangeText(...stone.figure_kg));
	const undercuts = plan.points.filter((p) => p.undercut).length;
	const byEye = plan.points.filter((p) => p.byEye).length;
	const listed = [undercuts > 0 ? `${undercuts} undercut` : "", byEye > 0 ? `${byEye} by eye` : ""].filter((w) => w);
	fact(
		flow,
		"Points",
		`${plan.points.length} in ${plan.rounds.length} rounds${listed.length > 0 ? `, of them ${listed.join(" and ")} (listed with reasons)` : ""}`,
	);
	fact(
		flow,
		"Depths allow for",
		`a mark ${sizeText(plan.aim.mark_mm, units)} out, a lean ${angleText(plan.aim.lean_deg)} out, wander ${shareText(plan.aim.wander, 1)} of the depth`,
	);
}

function fitWords(plan: Plan): string {
	const { stone, sheet } = plan;
	const units = finely(sheet.units);
	const spare = lengthText(Math.abs(stone.spare_mm), units);
	if (!stone.fits) return `DOES NOT FIT: ${spare} short of the margins asked for`;
	const bare = noMarginWords(
		stone.perFace.map(({ face, margin_mm }) => ({ face, margin: margin_mm })),
		stone.outOfTrue_mm / 2,
	);
	const proof = stone.certified
		? "proved for the sizes given: no other placement gives more"
		: `found by search, not proved: at most ${lengthText(stone.clearanceBound_mm, units)} could be had`;
	return `${spare} to spare, ${proof}. Least gap to the skin ${lengthText(stone.clearance_mm, units)}${bare === null ? "" : `; ${bare}`}.`;
}

function lies(flow: Flow, plan: Plan): void {
	flow.heading("How the stone lies", 16);
	const table = startTable(flow, {
		columns: [
			{ head: ["lie"], width: 92, align: "left", bold: true },
			{ head: ["open faces, where a drill may enter"], width: 0, align: "left" },
			{ head: ["points"], width: 20, align: "right" },
		],
	});
	plan.lies.forEach((lie, i) => {
		table.row([
			lieText(lie.name, faceThatIsDown(lie.openFaces, plan.stone.faces)),
			lie.openFaces.join(", "),
			String(plan.points.filter((p) => p.lie === i).length),
		]);
	});
	table.end();
	if (plan.lies.some(({ name }) => name.includes("proper"))) flow.paragraph(SIDES_TOLD);
}

function rounds(flow: Flow, plan: Plan): void {
	const units = plan.sheet.units;
	flow.heading("Rounds", 14 + 6 * plan.rounds.length);
	const table = startTable(flow, {
		columns: [
			{ head: [""], width: 9, align: "middle" },
			{ head: ["round"], width: 0, align: "left", bold: true },
			{ head: ["join", `at ${unitWord(units)}`], width: 17, align: "right" },
			{ head: ["drill", "leaves"], width: 18, align: "right" },
			{ head: ["drill", `Ø ${unitWord(units)}`], width: 17, align: "right" },
			{ head: ["points", "(foreseen)"], width: 28, align: "right" },
			{ head: ["least cover", unitWord(units)], width: 26, align: "right" },
			{ head: ["of the area", "claimed"], width: 26, align: "right" },
		],
	});
	plan.rounds.forEach((r, i) => {
		const cover =
			r.leastCover_mm === null ? "no limit" : lengthNumber(r.leastCover_mm, finely(units)).replace("-", "−");
		table.row([
			(on, x, y) => drawMark(on, x, y, i, null, false, 1.5),
			r.name,
			sizeNumber(r.join_mm, units),
			sizeNumber(r.allowance_mm, units),
			sizeNumber(r.tool.drill_mm, units),
			`${r.points} (${Math.round(r.foreseen)})`,
			cover,
			r.claimedShare === null ? "–" : shareText(r.claimedShare),
		]);
	});
	table.end();
	for (const r of plan.rounds.filter((x) => x.eyeFactor > 1))
		flow.paragraph(
			`In “${r.name}” the curve between the points is read from the model (eye factor ${r.eyeFactor}): a flat join there would cut in.`,
			quiet,
		);
}

function reading(flow: Flow, plan: Plan): void {
	flow.heading("How to read a line of the tables", 30);
	flow.paragraph(TRANSFER_WORDS[plan.transfer].how);
	flow.gap(1.5);
	const drilled = plan.transfer !== "machine";
	const { units } = plan.sheet;
	for (const c of columnWords(plan.transfer, farOutWords(units))) fact(flow, c.column, sentenceIn(units, c.tells));
	const sample = plan.points.find((p) => p.depth_mm !== null && (!drilled || p.face !== null));
	if (sample && sample.depth_mm !== null) {
		flow.gap(1);
		flow.paragraph(sampleWords(plan, sample, drilled), bodyBold);
	}
	flow.gap(1);
	flow.paragraph("Mark pale stone with graphite or charcoal, never with anything indelible.", quiet);
}

function sampleWords(plan: Plan, p: Plan["points"][number], drilled: boolean): string {
	const units = plan.sheet.units;
	const drill = sizeText(plan.rounds[p.round].tool.drill_mm, units);
	const depth = `${depthNumber(p.depth_mm ?? 0, units)} ${unitWord(units)}`;
	const start =
		drilled && p.face !== null && p.u_mm !== null && p.v_mm !== null && p.lean_deg !== null
			? `on the ${p.face} face, ${lengthText(p.u_mm, units)} along u and ${lengthText(p.v_mm, units)} along v, leaning ${p.lean_deg[0].toFixed(1)}° and ${p.lean_deg[1].toFixed(1)}°, `
			: "on its line, ";
	return `Number ${p.number}: ${start}with the ${drill} drill, ${depth} down to the tip, no deeper.`;
}

function cautions(flow: Flow, plan: Plan): void {
	flow.heading("Cautions", 30);
	const { stone } = plan;
	const figure = stone.figure_kg ? massRangeText(...stone.figure_kg) : null;
	const wet = stone.stoneWet_kg && massRangeText(stone.stoneWet_kg[1], stone.stoneWet_kg[1]);
	for (const c of cautionsFor(stone.kind, massRangeText(...stone.stone_kg), figure, wet)) noted(flow, c.about, c.words);
	for (const words of plan.cautions) noted(flow, "This plan", sentenceIn(plan.sheet.units, words));
	flow.gap(1);
	flow.paragraph(CAUTION_LAST, bodyBold);
}
