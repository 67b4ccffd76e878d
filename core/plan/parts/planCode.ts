/** The short code of what is drilled. */

import type { Job } from "../../job.ts";
import type { Plan } from "../planFile.ts";

const CODE_LETTERS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ";
/** Points whose figures are hashed before the job lets others have their turn. */
const SLICE = 64;

/**
 * What the code stands for: scan and stone as they lie to each other, how it is carried over, the points with their lines
 * and depths, cuts and bridges, and the unit in which all of it is printed.
 */
export type Drilled = Pick<
	Plan,
	| "model"
	| "stone"
	| "transfer"
	| "datumSets"
	| "proofMarks"
	| "lies"
	| "rounds"
	| "points"
	| "saw"
	| "cuts"
	| "stopCuts"
	| "bridges"
>;

/**
 * Six letters from what is drilled (FNV-1a, 32 bit; public domain). Paper, scale, views, dates, names, the log and
 * everything after the last point do not change it: sheets on two papers and the bench page of one plan carry one code.
 */
export function* planCode(drilled: Drilled, units: Plan["sheet"]["units"]): Job<string> {
	const { model, rounds, points, lies, stone, transfer, datumSets, proofMarks, saw, cuts, stopCuts, bridges } = drilled;
	const around = [stone, transfer, datumSets, proofMarks, saw, cuts, stopCuts, bridges];
	let hash = 0x811c9dc5;
	const take = (what: unknown): void => {
		const text = JSON.stringify(what);
		for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
	};
	// A scan is known by its fingerprint, and a round or a lie by its place: what they are called is nothing that is drilled.
	const { scan: _, unitReason: __, ...known } = model;
	take([units, known, around, rounds.map(({ name, ...round }) => round), lies.map(({ name, ...lie }) => lie)]);
	for (let from = 0; from < points.length; from += SLICE) {
		take(points.slice(from, from + SLICE));
		yield { stage: "writing the plan", share: from / points.length };
	}
	let code = "";
	for (let i = 0; i < 6; i++) {
		code += CODE_LETTERS[hash & 31];
		hash = i === 5 ? hash : hash >>> 5;
	}
	return code;
}
