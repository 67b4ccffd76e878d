/** From a scan and a commission to the plan and its sheets, for every verb that plans. */

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { SAWS } from "../../core/cuts/saws.ts";
import type { Answers, ModelAnswer, OpenedScan } from "../../core/plan/answers.ts";
import { MOST_CUTS, MOST_STOP_CUTS } from "../../core/plan/commission/cuts.ts";
import { type Commission, newCommission, TRANSFERS, TURNINGS } from "../../core/plan/commission.ts";
import type { Plan } from "../../core/plan/planFile.ts";
import { createPlanner } from "../../core/plan/planner.ts";
import { documentText } from "../../core/plan/readDocument.ts";
import { Refusal } from "../../core/refusal.ts";
import { drawSheets, type SheetInput, type Sheets } from "../../core/sheet/drawSheets.ts";
import { drawFullSizeMaps } from "../../core/sheet/fullSizeMaps.ts";
import { sheetInputOf } from "../../core/sheet/sheetInput.ts";
import { drawTemplates } from "../../core/sheet/templates.ts";
import { noMarginWords } from "../../core/text/fitWords.ts";
import { LENGTH_UNITS, massRangeText, shareText } from "../../core/text/format.ts";
import { choiceOption, numberOption, plainOption, sidesOption, type Taking, type Values } from "./options.ts";
import { describedIn } from "./stoneFiles.ts";
import type { Row, Shop } from "./verb.ts";
import type { FileSet } from "./writeSet.ts";

/** Options that change single entries of a commission. */
export const COMMISSION_OPTIONS = {
	block: "text",
	offcut: "text",
	transfer: "text",
	turning: "text",
	up: "text",
	cuts: "text",
	"stop-cuts": "text",
	saw: "text",
	lengths: "text",
} as const;

/** Turns that bring an axis of the scan up: x, y, z, w, of any length. */
const UP_STANCES = {
	x: [0, -1, 0, 1],
	"-x": [0, 1, 0, 1],
	y: [1, 0, 0, 1],
	"-y": [-1, 0, 0, 1],
	z: [0, 0, 0, 1],
	"-z": [1, 0, 0, 0],
} as const satisfies Readonly<Record<string, Commission["model"]["stance"]>>;
type Up = keyof typeof UP_STANCES;

/** The commission as it is planned: on this scan, with what was said on the command line in place. */
export function commissionFor(scan: OpenedScan, from: Commission | null, taking: Taking, values: Values): Commission {
	const base = from ?? { ...newCommission(scan.name), name: scan.name.replace(/\.(stl|ply)$/i, "").slice(0, 120) };
	const up = choiceOption(values, "up", Object.keys(UP_STANCES) as Up[]);
	const block = sidesOption(values, "block");
	const offcut = plainOption(values, "offcut");
	if (block && offcut !== undefined) throw new Refusal("command.either", { one: "--block", other: "--offcut" });
	const stone = offcut === undefined ? base.stone : { ...base.stone, ...describedIn(offcut) };
	const whole = { orEqual: true, whole: true };
	return {
		...base,
		cuts: {
			...base.cuts,
			saw: choiceOption(values, "saw", SAWS) ?? base.cuts.saw,
			count: numberOption(values, "cuts", { ...whole, most: MOST_CUTS }) ?? base.cuts.count,
			stopCuts: numberOption(values, "stop-cuts", { ...whole, most: MOST_STOP_CUTS }) ?? base.cuts.stopCuts,
		},
		scan: {
			...base.scan,
			file: scan.name,
			sha256: scan.sha256,
			unit: taking.unit ?? base.scan.unit,
			mirrored: taking.mirrored || base.scan.mirrored,
		},
		model: {
			...base.model,
			scale: taking.scale ?? base.model.scale,
			stance: up === undefined ? base.model.stance : [...UP_STANCES[up]],
		},
		transfer: choiceOption(values, "transfer", TRANSFERS) ?? base.transfer,
		sheet: { ...base.sheet, units: choiceOption(values, "lengths", LENGTH_UNITS) ?? base.sheet.units },
		stone: {
			...stone,
			...(block ? { given: "sides" as const, block_mm: [block[0], block[1], block[2]] as const, breaks: [] } : {}),
			turning: choiceOption(values, "turning", TURNINGS) ?? base.stone.turning,
		},
	};
}

export interface Planned {
	readonly plan: Plan;
	readonly model: ModelAnswer;
	readonly answers: Answers;
}

/** Works out the plan; refuses with the first reason why there is none. */
export async function planWhole(
	scan: OpenedScan,
	commission: Commission,
	shop: Shop,
	stoneScan: OpenedScan | null = null,
): Promise<Planned> {
	const answers = await shop.run(createPlanner().work(scan, commission, stoneScan));
	const { plan, model, waits } = answers;
	if (plan === null || model === null) {
		if (waits.length === 0) throw new Error("the planner gave neither a plan nor a reason");
		throw new Refusal(waits[0].issue.code, waits[0].issue.facts);
	}
	if (plan.finish?.fixing && plan.finish.fixing.tips_deg === null)
		shop.note(
			"As it stands the figure has no flat foot. If it lies on its side or its face, say which axis of the scan is up (--up y).",
		);
	return { plan, model, answers };
}

const require = createRequire(import.meta.url);
const font = (name: string): Uint8Array =>
	new Uint8Array(readFileSync(require.resolve(`dejavu-fonts-ttf/ttf/${name}.ttf`)));

export const sheetFonts = (): SheetInput["fonts"] => ({ regular: font("DejaVuSans"), bold: font("DejaVuSans-Bold") });

function sheetInput({ answers }: Planned): SheetInput {
	const input = sheetInputOf(answers, sheetFonts());
	if (input === null) throw new Error("a plan was made without its surface");
	return input;
}

export const sheetsOf = (planned: Planned, shop: Shop): Promise<Sheets> => shop.run(drawSheets(sheetInput(planned)));

const TEMPLATES = "templates.pdf";
const FULL_SIZE_MAPS = "maps-full-size.pdf";

/** The stone's faces with their entries, and the maps, both at 1:1 over several sheets. */
export async function fullSizeFiles(planned: Planned, shop: Shop): Promise<FileSet> {
	const templates = await shop.run(drawTemplates({ plan: planned.plan, fonts: sheetFonts() }));
	const maps = await shop.run(drawFullSizeMaps(sheetInput(planned)));
	return new Map([...(templates ? [[TEMPLATES, templates.pdf] as const] : []), [FULL_SIZE_MAPS, maps.pdf] as const]);
}

export const isMap = (name: string): boolean => /^map-[\w-]+\.svg$/.test(name);

/** Whether a file in an output folder comes from an earlier plan and would contradict a later one. */
export const isPlanFile = (name: string): boolean => isMap(name) || name === TEMPLATES || name === FULL_SIZE_MAPS;

export function planFiles(plan: Plan, sheets: Sheets): FileSet {
	return new Map<string, Uint8Array | string>([
		["plan.json", documentText(plan)],
		["points.csv", sheets.csv],
		["sheets.pdf", sheets.pdf],
		...sheets.maps.map(({ fileName, svg }) => [fileName, svg] as const),
	]);
}

/** What a plan comes to, in a few lines. */
export function planRows(plan: Plan): Row[] {
	const { stone, model } = plan;
	const bare = noMarginWords(
		stone.perFace.map(({ face, margin_mm }) => ({ face, margin: margin_mm })),
		stone.outOfTrue_mm / 2,
	);
	const undercuts = plan.points.filter((point) => point.undercut).length;
	const byEye = plan.points.filter((point) => point.byEye).length;
	const sides = (mm: readonly number[], digits: number): string =>
		`${mm.map((side) => side.toFixed(digits)).join(" × ")} mm`;
	return [
		["plan", `${plan.name}, code ${plan.code}`],
		["model", `${model.scan}, ${sides(model.size_mm, 1)}`],
		[
			"stone",
			`${stone.kind}, ${stone.block_mm ? "" : `offcut of ${stone.faces.length} faces within `}${sides(stone.extent_mm, 0)}${stone.blockAssumed ? ", assumed: the smallest sawn block" : ""}`,
		],
		["mass of the stone", massRangeText(...stone.stone_kg)],
		[
			"to spare",
			`${stone.spare_mm.toFixed(1)} mm over the margins${stone.certified ? ", proved" : ""}${bare === null ? "" : `; ${bare}`}`,
		],
		["transfer", plan.transfer],
		...plan.rounds.map((round): Row => {
			return [round.name, `${round.points} points${coverWords(round)}`];
		}),
		...cutRows(plan),
		["points", `${plan.points.length}, ${undercuts} of them undercut, ${byEye} by eye`],
	];
}

function cutRows({ cuts, stopCuts, afterCuts }: Plan): Row[] {
	const last = cuts.at(-1);
	const rows: Row[] = [];
	if (last) rows.push(["cuts", `${cuts.length}, which free ${shareText(last.wasteShare)} of what a saw could free`]);
	for (const field of stopCuts)
		rows.push([field.name, `${field.kerfs.length} kerfs on ${field.face}, ${massRangeText(...field.removedRange_kg)}`]);
	if (afterCuts) rows.push(["mass after the cuts", massRangeText(...afterCuts.mass_kg)]);
	return rows;
}

/** What a flat join leaves in a round; below zero it would cut in there, which is why such ground is read from the model. */
function coverWords({ leastCover_mm: least }: Plan["rounds"][number]): string {
	if (least === null) return "";
	return least >= 0
		? `, a flat join leaves ${least.toFixed(2)} mm or more`
		: `, by eye: a flat join would cut in by up to ${(-least).toFixed(2)} mm`;
}
