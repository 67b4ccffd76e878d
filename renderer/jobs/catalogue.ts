/** The jobs themselves, on the worker's side: it holds the scan and the planner, whose stages are kept between calls. */

import { checkReadings } from "../../core/bench/checkReadings.ts";
import { handPlacement, leftStone } from "../../core/bench/leftStone.ts";
import { hasMoved } from "../../core/bench/moved.ts";
import { placeAnew } from "../../core/bench/placeAnew.ts";
import { fullFacts, quickFacts } from "../../core/finish/quoteFacts.ts";
import type { Job } from "../../core/job.ts";
import { within } from "../../core/job.ts";
import type { Answers, GildedArea, OpenedScan, Outcome, StoneAnswer } from "../../core/plan/answers.ts";
import type { Commission } from "../../core/plan/commission.ts";
import { createPlanner, openScan, type Planner } from "../../core/plan/planner.ts";
import { documentText } from "../../core/plan/readDocument.ts";
import { optionsOf, yardOptionsOf } from "../../core/plan/stages/stoneStages.ts";
import type { RoundReport } from "../../core/pointing/rounds.ts";
import { type Issue, Refusal } from "../../core/refusal.ts";
import { memorySource, type ScanSource } from "../../core/scan/source.ts";
import { drawLeft, drawSheets } from "../../core/sheet/drawSheets.ts";
import { drawFullSizeMaps } from "../../core/sheet/fullSizeMaps.ts";
import { pointSection } from "../../core/sheet/pointSection.ts";
import { drawQuote } from "../../core/sheet/quotePdf.ts";
import { sheetInputOf } from "../../core/sheet/sheetInput.ts";
import { writeSvg } from "../../core/sheet/svgWriter.ts";
import { drawTemplates } from "../../core/sheet/templates.ts";
import { letSettle } from "../../core/stone/letSettle.ts";
import { vertexNormals } from "../../core/surface/vertexNormals.ts";
import { demoScan } from "../../seeds/demo.ts";
import { seeds } from "../../seeds/index.ts";
import { buffersOf, type DisplayMesh, displayMesh } from "./displayMesh.ts";
import type { Handed, JobMakers } from "./jobServer.ts";
import type {
	AnswersShown,
	CoverMap,
	FinishShown,
	Jobs,
	MapsShown,
	ScanShown,
	Standing,
	StoneShown,
	WorkOutput,
} from "./shown.ts";
import { handleName, type ScanHandle } from "./sources.ts";
import { findingBuffers, modelShown, standingOf, thicknessShown } from "./standing.ts";

export interface CatalogueTools {
	/** Synchronous reads of a scan. */
	source(handle: ScanHandle): ScanSource;
	/** TrueType files of the sheets; asked for at each drawing. */
	fonts(): { readonly regular: Uint8Array; readonly bold: Uint8Array };
}

/** A yard is walked through one stone after another; more than these need not stay open. */
const MOST_STONES = 4;

interface Open {
	readonly scan: OpenedScan;
	readonly planner: Planner;
	answers: Answers | null;
	/** The commission that the answers belong to. */
	planned: Commission | null;
	/** What the window has already: how the scan stood when its mesh was handed over, and the arrays over it. */
	stood: string;
	sentThickness: unknown;
	sentMaps: readonly unknown[];
}

/** One set of jobs around one open scan. A scan that is refused leaves the one before it in place. */
export function jobCatalogue(tools: CatalogueTools): JobMakers<Jobs> {
	/** The scan that was opened last, and the one before it until the window has turned to the new one. */
	let held: readonly Open[] = [];
	/** Scans of stones, the last opened first. */
	let stones: readonly OpenedScan[] = [];
	const stoneScanOf = ({ stone: { scan } }: Commission): OpenedScan | null =>
		stones.find(({ sha256 }) => sha256 === scan?.sha256) ?? null;

	function* take(job: Job<OpenedScan>): Job<Handed<ScanShown>> {
		const scan = yield* job;
		held = [
			{ scan, planner: createPlanner(), answers: null, planned: null, stood: "", sentThickness: null, sentMaps: [] },
			...held.slice(0, 1),
		];
		const { places: _, ...health } = scan.health;
		const { name, sha256, file, unit } = scan;
		return { output: { name, sha256, format: file.format, notes: file.notes, health, unit }, transfer: [] };
	}

	/** An opening that the window gave up may still have ended here, so what is worked on is told by its fingerprint. */
	const opened = (commission: Commission): Open => {
		const found = held.find(({ scan }) => scan.sha256 === commission.scan.sha256);
		if (!found) throw new Error("The scan of this commission is not open.");
		held = [found];
		return found;
	};

	return {
		openScan: ({ handle }) => take(openScan(tools.source(handle), handleName(handle))),
		*openStone({ handle }) {
			const stone = yield* openScan(tools.source(handle), handleName(handle));
			stones = [stone, ...stones.filter(({ sha256 }) => sha256 !== stone.sha256)].slice(0, MOST_STONES);
			const { name, sha256, unit } = stone;
			return { output: { name, sha256, unit: unit.unit }, transfer: [] };
		},
		*settle({ commission, placement }) {
			const stone = opened(commission).answers?.stone;
			if (!stone) throw new Refusal("stone.notYet", {});
			yield { stage: "letting the figure settle", share: 0 };
			const options = optionsOf(stone, commission);
			const { fit, quaternion } = letSettle(stone.held, stone.stone, placement, options, stone.best);
			return { output: { quaternion, translation: fit.placement.translation }, transfer: [] };
		},
		*yardFigure({ commission, scanned }) {
			const { model, stone } = opened(commission).answers ?? {};
			if (!model || !stone) throw new Refusal("stone.notYet", {});
			const options = yardOptionsOf(commission);
			return { output: { mesh: scanned ? model.mesh : null, held: stone.held, options }, transfer: [] };
		},
		openDemo: ({ name }) => take(makeDemo(name)),
		*standUp({ commission }) {
			const on = opened(commission);
			const { unit, mirrored, mend, back } = commission.scan;
			const { scale, stance } = commission.model;
			const stood = JSON.stringify([unit ?? on.scan.unit.unit, mirrored, mend, back, scale, stance]);
			if (stood === on.stood) return { output: { mesh: undefined, standing: undefined }, transfer: [] };
			let mesh: DisplayMesh | null = null;
			let standing: Standing | null = null;
			if ((unit ?? on.scan.unit.unit) !== null) {
				const model = yield* within(on.planner.stand(on.scan, commission), 0, 0.3);
				const normals = vertexNormals(model.mesh);
				yield { stage: "standing the model up", share: 0.5 };
				mesh = displayMesh(model.mesh, normals);
				yield { stage: "standing the model up", share: 0.9 };
				standing = standingOf(model, normals);
			}
			on.stood = stood;
			on.sentMaps = [];
			on.sentThickness = null;
			const transfer = mesh && standing ? [...buffersOf(mesh), ...findingBuffers(standing.findings)] : [];
			return { output: { mesh, standing }, transfer };
		},
		*thickness({ commission }) {
			const on = opened(commission);
			const answer = yield* on.planner.thickness(on.scan, commission);
			if (answer === on.sentThickness) return { output: undefined, transfer: [] };
			on.sentThickness = answer;
			const output = thicknessShown(answer);
			return { output, transfer: [output.thickness.buffer, output.marks.buffer] };
		},
		*work({ commission }) {
			const on = opened(commission);
			const answers = yield* on.planner.work(on.scan, commission, stoneScanOf(commission));
			on.answers = answers;
			on.planned = commission;
			return handed(on, answers);
		},
		*sheets({ commission }) {
			const { answers } = opened(commission);
			const input = answers && sheetInputOf(answers, tools.fonts());
			if (!input) throw new Refusal("sheet.noPlan");
			const { plan } = input;
			const sheets = yield* drawSheets(input);
			const pdf = Uint8Array.from(sheets.pdf);
			const json = documentText(plan);
			return { output: { pdf, pages: sheets.pages, csv: sheets.csv, json, maps: sheets.maps }, transfer: [pdf.buffer] };
		},
		*fullSize({ commission, what }) {
			const { answers } = opened(commission);
			const input = answers && sheetInputOf(answers, tools.fonts());
			if (!input) throw new Refusal("sheet.noPlan");
			const made = what === "maps" ? yield* drawFullSizeMaps(input) : yield* drawTemplates(input);
			const pdf = made && Uint8Array.from(made.pdf);
			return { output: { pdf }, transfer: pdf ? [pdf.buffer] : [] };
		},
		*left({ commission, day }) {
			const { answers } = opened(commission);
			const input = answers && sheetInputOf(answers, tools.fonts());
			if (!input) throw new Refusal("sheet.noPlan");
			const pdf = Uint8Array.from(yield* drawLeft(input, commission.log, day));
			return { output: { pdf }, transfer: [pdf.buffer] };
		},
		*placeAnew({ commission, asked: { wish, leastScale, lost } }) {
			const { answers } = opened(commission);
			const { plan, stone, cuts } = answers ?? {};
			if (!plan || !stone) throw new Refusal("sheet.noPlan");
			const standing = cuts?.left ?? stone.stone;
			const { remains, numbers } = leftStone(plan, commission.log, standing, stone.hull.vertices, lost);
			const placed = yield* placeAnew(remains, { wish, leastScale });
			const hand = handPlacement(plan.stone.placement, placed);
			return { output: { placed, hand, numbers, planes: remains.planes }, transfer: [] };
		},
		*moved({ commission }) {
			const { answers } = opened(commission);
			if (!answers?.plan) throw new Refusal("sheet.noPlan");
			const { input, names, day, left } = checkReadings(answers.plan, commission.log);
			if (day === null) return { output: null, transfer: [] };
			yield { stage: "comparing the readings", share: 0 };
			const verdict = hasMoved(input);
			const farther = left.map((point, i) => [point.number, verdict.corrections[i]] as const);
			return { output: { verdict, names, day, farther }, transfer: [] };
		},
		*quote({ commission, quick }) {
			const facts = quick
				? quickFacts(commission.name, quick, commission.quote, commission.sheet)
				: fullFacts(commission, opened(commission).answers);
			const papers = yield* drawQuote(facts, tools.fonts());
			const [offer, worksheet] = [Uint8Array.from(papers.offer), Uint8Array.from(papers.worksheet)];
			return { output: { offer, worksheet }, transfer: [offer.buffer, worksheet.buffer] };
		},
		*section({ commission, number }) {
			const { answers, planned } = opened(commission);
			if (!answers || !planned) throw new Refusal("sheet.noPlan");
			const drawing = yield* pointSection(answers, planned, number);
			return { output: { svg: writeSvg(drawing) }, transfer: [] };
		},
	};
}

/** Makes a demo's scan, writes it out and reads it in like any other, so that the two are planned alike. */
function* makeDemo(name: string): Job<OpenedScan> {
	const seed = seeds.find((one) => one.name === name);
	if (!seed) throw new Error(`There is no demo named ${name}.`);
	const bytes = yield* within(demoScan(seed), 0, 0.6);
	return yield* within(openScan(memorySource(bytes), seed.fileName), 0.6, 1);
}

/** What the window gets of the answers, and which arrays go along. */
function handed(on: Open, answers: Answers): Handed<WorkOutput> {
	const transfer: Transferable[] = [];
	const gilded = answers.finish?.gilded ?? [];
	const parts: readonly unknown[] = [answers.field, answers.seatError, ...answers.rounds, ...gilded];
	let maps: MapsShown | undefined;
	if (parts.length !== on.sentMaps.length || parts.some((part, i) => part !== on.sentMaps[i])) {
		maps = mapsOf(answers);
		transfer.push(...mapBuffers(maps));
		on.sentMaps = parts;
	}
	return { output: { answers: light(answers), maps }, transfer };
}

function light(answers: Answers): AnswersShown {
	const { model, resting, cast, stone, cuts, datumSets, plan, sizes, nature, finish, waits } = answers;
	const lightModel = model && modelShown(model);
	const lightStone = stone && lightStoneOf(stone);
	const places = datumSets.map(({ name, suggested, places, link }) => ({
		name,
		suggested,
		places,
		linkTo: link?.to ?? null,
	}));
	const lightFinish = finish && { ...finish, gilded: finish.gilded.map(lightArea) };
	return {
		model: lightModel,
		resting,
		cast,
		stone: lightStone,
		cuts,
		datumSets: places,
		plan,
		sizes,
		nature,
		finish: lightFinish,
		waits,
	};
}

/** A gilded area without its arrays. */
const lightArea = ({ answer, issue }: Outcome<GildedArea>): FinishShown["gilded"][number] =>
	answer
		? {
				answer: { name: answer.name, leaf: answer.leaf, area: answer.region.area, lost: answer.region.lost },
				issue: null,
			}
		: { answer: null, issue: issue as Issue };

/** Over all areas, the share of every vertex's ground. */
function gildedMap(gilded: readonly Outcome<GildedArea>[]): Float32Array<ArrayBuffer> | null {
	const areas = gilded.flatMap(({ answer }) => (answer ? [answer.marked] : []));
	if (areas.length === 0) return null;
	const all = Float32Array.from(areas[0]);
	for (const marked of areas.slice(1)) for (let v = 0; v < all.length; v++) all[v] = Math.max(all[v], marked[v]);
	return all;
}

/** Without what only the planner needs: hulls, and the stone's scan but for what it says of the stone. */
function lightStoneOf({ hull: _, held, scanned, ...rest }: StoneAnswer): StoneShown {
	return {
		...rest,
		corners: held.vertices,
		scanned: scanned && { volume: scanned.volume, over: scanned.over, hollow: scanned.hollow },
	};
}

function mapsOf({ field, seatError, rounds, finish }: Answers): MapsShown {
	return {
		k1: field ? Float32Array.from(field.k1) : null,
		k2: field ? Float32Array.from(field.k2) : null,
		direction1: field ? Int8Array.from(field.direction1, (x) => Math.round(127 * x)) : null,
		seatError: seatError ? Float32Array.from(seatError) : null,
		covers: rounds.map(coverMap),
		gilded: finish && gildedMap(finish.gilded),
	};
}

function coverMap({ cover, byEye, unreached }: RoundReport): CoverMap {
	const ground = new Uint8Array(cover.length);
	for (let i = 0; i < ground.length; i++) ground[i] = unreached[i] ? 2 : byEye[i] ? 1 : 0;
	return { cover: Float32Array.from(cover), ground };
}

const mapBuffers = ({ k1, k2, direction1, seatError, covers, gilded }: MapsShown): Transferable[] =>
	[k1, k2, direction1, seatError, gilded, ...covers.flatMap((c) => [c.cover, c.ground])].flatMap((array) =>
		array ? [array.buffer] : [],
	);
