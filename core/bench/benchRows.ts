/**
 * A plan as the bench view shows it: one row a point in order of work, every figure already in words of the carver's unit.
 * The bench page carries these rows alone, so that a tablet needs neither scan nor planner.
 */

import type { Plan, PlanPoint, PlanProofMark } from "../plan/planFile.ts";
import { facesOf, type PlanFace } from "../sheet/faceDrawing.ts";
import { farOutText, hints, offsetOut } from "../sheet/pointColumns.ts";
import { HATCHED_SAWN, onItsAxes, sawnGround, zeroGoneWords } from "../sheet/sawnGround.ts";
import {
	depthNumber,
	finely,
	type LengthUnit,
	lengthNumber,
	lengthText,
	roundHalf,
	sizeText,
	unitWord,
} from "../text/format.ts";
import { faceThatIsDown, lieText } from "../text/lieWords.ts";
import { STOP_READS, stopReading } from "../text/stopWords.ts";
import { cross, dot } from "../vector.ts";
import { readState, toGoText, underText } from "./left.ts";

/** A smaller correction is lost in the reading, mm. */
const WORTH_CORRECTING = 0.1;

/** A name and what stands beside it, for example "depth" and "38.5 mm". */
export interface BenchFigure {
	readonly name: string;
	readonly value: string;
	/** What the drill is set by; shown largest. */
	readonly main?: boolean;
	/** Something has gone wrong: shown in the colour of alarm. */
	readonly alarm?: boolean;
}

export interface BenchRow {
	readonly number: number;
	readonly round: number;
	readonly roundName: string;
	readonly side: PlanPoint["side"];
	readonly lie: string;
	readonly figures: readonly BenchFigure[];
	/** Tip to finished surface along the line, mm, when the drill stands at its stop. */
	readonly stop_mm: number;
	/** Skin to tip, mm; null where the point is not drilled from a face. */
	readonly depth_mm: number | null;
	/** What to look out for, each in a few words. */
	readonly notes: readonly string[];
	/** The entry on its face, mm; null where nothing is measured on a face. */
	readonly entry: { readonly face: string; readonly u: number; readonly v: number } | null;
}

/** A face as seen from outside, for a sketch that says from which corner u and v count. */
export interface BenchFace {
	readonly name: string;
	/** u, v of its corners, mm. */
	readonly outline: readonly (readonly [number, number])[];
	/** Whether u runs to the right; on the back, left and bed it runs to the left. */
	readonly uRight: boolean;
	/** What the cuts leave of it, u and v of the corners, and what to mind; null where they take nothing. */
	readonly sawn: { readonly left: readonly (readonly [number, number])[]; readonly words: readonly string[] } | null;
}

export interface BenchSheet {
	readonly name: string;
	/** Code and revision of the plan. */
	readonly plan: string;
	readonly revision: string;
	readonly units: LengthUnit;
	readonly mirrored: boolean;
	readonly rows: readonly BenchRow[];
	readonly faces: readonly BenchFace[];
	/** Proof marks that can be read, with where they are. */
	readonly marks: readonly { readonly name: string; readonly where: string }[];
}

/** `farther`: by how much each stop must be set farther out of the stone since something has moved, mm, by number. */
export function benchSheet(plan: Plan, farther: ReadonlyMap<number, number> = new Map()): BenchSheet {
	return {
		name: plan.name,
		plan: plan.code,
		revision: plan.sheet.revision,
		units: plan.sheet.units,
		mirrored: plan.model.mirrored,
		rows: plan.points.flatMap((point) => {
			const row = benchRow(point, plan, farther.get(point.number) ?? 0);
			return row ? [row] : [];
		}),
		faces: facesOf(plan).map((face) => benchFace(plan, face)),
		marks: plan.proofMarks.flatMap((mark) => (mark.line ? [{ name: mark.name, where: markPlace(mark, plan) }] : [])),
	};
}

const TO_GO = "to go";

/**
 * The figures as they are now: once the place has been read, `over` mm to the finished face, first what is really left to go,
 * then the planned ones without it; a hole gone under says that before all else. A point that is `done` and was not read has
 * nothing planned to go any more. Else as planned.
 */
export function figuresNow(row: BenchRow, over: number | null, unit: LengthUnit, done = false): BenchFigure[] {
	const { figures, stop_mm: stop } = row;
	const planned = over === null && !done ? figures : figures.filter(({ name }) => name !== TO_GO);
	return over === null ? [...planned] : [{ ...leftNow(over, stop, unit), main: true }, ...planned];
}

function leftNow(over: number, stop: number, unit: LengthUnit): BenchFigure {
	const state = readState(over, stop, unit);
	switch (state) {
		case "stone left":
			return { name: TO_GO, value: toGoText(over, stop, unit) };
		case "at the stop":
			return { name: TO_GO, value: `nothing: ${state}` };
		case "past the stop":
		case "at the face":
			return { name: TO_GO, value: `nothing: ${state}`, alarm: true };
		case "gone under":
			return { name: `${state} the finished face`, value: `by ${underText(over, unit)}`, alarm: true };
	}
}

function benchFace(plan: Plan, face: PlanFace): BenchFace {
	const ground = sawnGround(plan, face);
	const words = ground?.zeroBy ? [HATCHED_SAWN, zeroGoneWords(ground.zeroBy)] : [HATCHED_SAWN];
	return {
		name: face.name,
		outline: onItsAxes(face, face.outline_mm),
		uRight: dot(cross(face.u, face.v), face.normal) > 0,
		sawn: ground && { left: onItsAxes(face, ground.left), words },
	};
}

/** null for an undercut: there is nothing to drill. */
function benchRow(point: PlanPoint, plan: Plan, farther: number): BenchRow | null {
	if (point.undercut || point.stop_mm === null || point.depth_mm === null) return null;
	const fromFace = plan.transfer === "machine" || point.u_mm === null || point.v_mm === null ? null : point.face;
	return {
		number: point.number,
		round: point.round,
		roundName: plan.rounds[point.round].name,
		side: point.side,
		lie: point.lie === null ? "" : lieWords(plan, point.lie),
		figures: figuresOf(point, plan, farther),
		stop_mm: point.stop_mm,
		depth_mm: plan.transfer === "machine" || point.face === null ? null : point.depth_mm,
		notes: notesOf(point, plan),
		entry: fromFace ? { face: fromFace, u: point.u_mm as number, v: point.v_mm as number } : null,
	};
}

function lieWords(plan: Plan, lie: number): string {
	const { name, openFaces } = plan.lies[lie];
	return lieText(name, faceThatIsDown(openFaces, plan.stone.faces));
}

/** The same that the table's notes say, spelled out. */
const notesOf = (point: PlanPoint, plan: Plan): string[] =>
	hints(plan, point)
		.split(", ")
		.flatMap((word) => {
			if (word === "") return [];
			if (word === "eye") return ["by eye: read the curve from the model"];
			if (word === "thin") return ["thin: no hammer action"];
			if (word.startsWith("at ")) return [`in the boss of seat ${word.slice(3)}`];
			return word.startsWith("by ") ? [`close to hole ${word.slice(3)}`] : [word];
		});

/** Half degrees, with the sign that says which way. */
const lean = (degrees: number): string => {
	const half = roundHalf(degrees);
	return half === 0 ? "0°" : `${half > 0 ? "+" : "−"}${Math.abs(half).toFixed(1)}°`;
};

function markPlace({ face, u_mm: u, v_mm: v }: PlanProofMark, plan: Plan): string {
	const unit = plan.sheet.units;
	return face === null || u === null || v === null
		? ""
		: `${face} face, u ${lengthNumber(u, unit)}, v ${lengthText(v, unit)}`;
}

function figuresOf(point: PlanPoint, plan: Plan, farther: number): BenchFigure[] {
	const unit = plan.sheet.units;
	const length = (mm: number): string => lengthText(mm, unit);
	const fine = (mm: number): string => lengthText(mm, finely(unit));
	const { face, u_mm: u, v_mm: v, lean_deg: leans, depth_mm: depth, toGo_mm: toGo, aimSafe_deg: safe } = point;
	const figures: BenchFigure[] = [];
	const say = (name: string, value: string, main = false): void => {
		figures.push(main ? { name, value, main } : { name, value });
	};
	if (plan.transfer !== "machine" && face !== null && u !== null && v !== null && leans !== null) {
		say("face", face, true);
		say("u", length(u), true);
		say("v", length(v), true);
		say("lean u", lean(leans[0]), true);
		say("lean v", lean(leans[1]), true);
		const out = leans.map((degrees) => `${offsetOut(degrees, unit)} ${unitWord(unit)}`);
		say(`line ${farOutText(unit)}`, out.join(", "));
	}
	const { setZero_mm: zero, drill_mm: drill } = plan.rounds[point.round].tool;
	const sayDepth = (name: string, mm: number): void => {
		say(name, `${depthNumber(mm, unit)} ${unitWord(unit)}`, true);
		if (zero !== 0) say(STOP_READS.join(" "), `${stopReading(mm, zero, unit)} ${unitWord(unit)}`, true);
	};
	say("drill", `Ø ${sizeText(drill, unit)}`, true);
	if (depth !== null) sayDepth("depth", depth);
	if (depth !== null && Math.abs(farther) >= WORTH_CORRECTING) sayDepth("corrected depth", depth - farther);
	if (toGo !== null) say(TO_GO, `${depthNumber(toGo, unit)} ${unitWord(unit)}`, true);
	if (plan.transfer === "callipers" && point.callipers_mm) {
		const { model, stone } = point.callipers_mm;
		for (const [i, datum] of ["A", "B", "C"].entries())
			say(`from ${datum}`, `model ${fine(model[i])}, stone ${fine(stone[i])}`);
	}
	if (safe !== null) say("safe to", `±${(Math.floor(safe * 2 + 1e-9) / 2).toFixed(1)}°`);
	if (point.stop_mm !== null) say("left at the stop", fine(point.stop_mm));
	return figures;
}
