/** The jobs themselves, on the worker's side: it holds the scan and the planner, whose stages are kept between calls. */

import { checkReadings } from "../../core/bench/checkReadings.ts";
import { handPlacement, leftStone } from "../../core/bench/leftStone.ts";
import { hasMoved } from "../../core/bench/moved.ts";
import { placeAnew } from "../../core/bench/placeAnew.ts";
import { fullFacts, quickFacts } from "../../core/finish/quoteFacts.ts";
import type { Job } from "../../core/job.ts";
import { within } from "../../core/job.ts";
import type { Answers, GildedArea, OpenedScan, Outcome } from "../../core/plan/answers.ts";
import type { Answer } from "../../core/plan/answersByStages.ts";
import type { Commission } from "../../core/plan/commission.ts";
import { createPlanner, openScan, type Planner } from "../../core/plan/planner.ts";
import { documentText } from "../../core/plan/readDocument.ts";
import { optionsOf } from "../../core/plan/stages/stoneStages.ts";
import { Refusal } from "../../core/refusal.ts";
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
import { type HandedOver, handOver, handOverGilded } from "./handOver.ts";
import type { Handed, JobMakers } from "./jobServer.ts";
import { createLedger, type Fresh, type Holds, type Ledger } from "./ledger.ts";
import type { AnswerShown, Jobs, ScanShown, ShownPart, Standing } from "./shown.ts";
import { handleName, type ScanHandle } from "./sources.ts";
import { findingBuffers, standingOf, thicknessShown } from "./standing.ts";

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
	/** All of one commission, which is `planned`. */
	answers: Answers | null;
	planned: Commission | null;
	/** The same, each as soon as it stood. */
	newest: Pick<Answers, "model" | "stone">;
	readonly ledger: Ledger;
	/** As they were last handed over. */
	gilded: readonly Outcome<GildedArea>[];
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
		const nothing = { answers: null, planned: null, newest: { model: null, stone: null }, gilded: [] };
		held = [{ scan, planner: createPlanner(), ledger: createLedger(), ...nothing }, ...held.slice(0, 1)];
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
			const { stone } = opened(commission).newest;
			if (!stone) throw new Refusal("stone.notYet", {});
			yield { stage: "letting the figure settle", share: 0 };
			const options = optionsOf(commission);
			const { fit, quaternion } = letSettle(stone.held, stone.stone, placement, options, stone.best);
			return { output: { quaternion, translation: fit.placement.translation }, transfer: [] };
		},
		*yardFigure({ commission, scanned }) {
			const { model, stone } = opened(commission).newest;
			if (!model || !stone) throw new Refusal("stone.notYet", {});
			const options = optionsOf(commission);
			return { output: { mesh: scanned ? model.mesh : null, held: stone.held, options }, transfer: [] };
		},
		openDemo: ({ name }) => take(makeDemo(name)),
		*standUp({ commission, holds }) {
			const on = opened(commission);
			const { unit, mirrored, mend, back } = commission.scan;
			const { scale, stance } = commission.model;
			const stood = JSON.stringify([unit ?? on.scan.unit.unit, mirrored, mend, back, scale, stance]);
			if (on.ledger.isHeld("mesh", stood, holds)) return { output: null, transfer: [] };
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
			const output = on.ledger.fresh("mesh", stood, holds, () => ({ mesh, standing }));
			const transfer = mesh && standing ? [...buffersOf(mesh), ...findingBuffers(standing.findings)] : [];
			return { output, transfer };
		},
		*thickness({ commission, holds }) {
			const on = opened(commission);
			const answer = yield* on.planner.thickness(on.scan, commission);
			const output = on.ledger.fresh("thickness", answer, holds, () => thicknessShown(answer));
			return { output, transfer: output ? [output.value.thickness.buffer, output.value.marks.buffer] : [] };
		},
		*work({ commission, holds }, tell) {
			const on = opened(commission);
			on.answers = yield* on.planner.work(on.scan, commission, stoneScanOf(commission), (answer) => {
				if (answer.name === "model" || answer.name === "stone")
					on.newest = { ...on.newest, [answer.name]: answer.value };
				const { part, transfer } = shownOf(on, answer, holds);
				tell(part, transfer);
			});
			on.planned = commission;
			return { output: null, transfer: [] };
		},
		*stillStanding({ commission, holds }) {
			const on = opened(commission);
			const standing = on.planner.standing(on.scan, commission, stoneScanOf(commission));
			const held = standing.filter(({ name, value }) => on.ledger.isHeld(name, value, holds));
			return { output: held.map(({ name }) => name), transfer: [] };
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

/** An answer as the window is told it; what it holds already does not go along. */
function shownOf(on: Open, answer: Answer, holds: Holds): { readonly part: AnswerShown; transfer: Transferable[] } {
	const transfer: Transferable[] = [];
	const take = ({ transfer: along, ...shown }: HandedOver): ShownPart => {
		transfer.push(...along);
		return shown;
	};
	const { name, page, waits } = answer;
	const fresh: [string, Fresh<ShownPart>][] = [
		[name, on.ledger.fresh(name, answer.value, holds, () => take(handOver(answer)))],
	];
	if (name === "finish" && answer.value) {
		const { gilded } = answer.value;
		// The areas stay while what the quote counts changes.
		if (gilded.length !== on.gilded.length || gilded.some((area, i) => area !== on.gilded[i])) on.gilded = gilded;
		fresh.push(["gilded", on.ledger.fresh("gilded", on.gilded, holds, () => take(handOverGilded(gilded)))]);
	}
	return { part: { name, page, waits, fresh }, transfer };
}
