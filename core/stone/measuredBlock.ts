/**
 * A delivered block as the tape finds it: twelve edges and the twelve diagonals of its faces give its six planes.
 *
 * Sawn faces are flat but not quite square, so the block is six planes with twelve unknowns: bed z = 0, front
 * y = a z, left x = b y + c z, and right, back and top as the far sides with two slopes each. The 24 lengths are fitted by
 * least squares (Gauss and Newton); the twelve that are over show how well the tape was read. A reading without which the
 * rest agrees far better is named: each one's share in the sum of squares against what is left without it (studentised
 * residual; Baarda's data snooping, 1968).
 */
import { Refusal } from "../refusal.ts";
import { cross, distance, dot, scale, sub, type Vec3 } from "../vector.ts";
import { symmetricInverse } from "./symmetricInverse.ts";

/** Corners by bit: 1 right, 2 back, 4 top; corner 0 is the marked one (left, front, bed). */
type Corner = number;

export interface BlockReading {
	/** "edge" or "diagonal", and the two corners in words: "left front bed to right front bed". */
	readonly kind: "edge" | "diagonal";
	readonly between: readonly [Corner, Corner];
	readonly words: string;
}

const cornerWords = (c: Corner): string =>
	`${c & 1 ? "right" : "left"} ${c & 2 ? "back" : "front"} ${c & 4 ? "top" : "bed"}`;

const reading = (kind: BlockReading["kind"], a: Corner, b: Corner): BlockReading => ({
	kind,
	between: [a, b],
	words: `${kind} from ${cornerWords(a)} to ${cornerWords(b)}`,
});

/**
 * The readings in the order in which they are entered. Edges: four along the length (bed front, bed back, top front, top
 * back), four along the width (bed left, bed right, top left, top right), four along the height (front left, front right,
 * back left, back right). Diagonals: two a face of bed, top, front, back, left and right; the first from the face's corner
 * nearest to the marked corner.
 */
export const BLOCK_READINGS: readonly BlockReading[] = [
	...[0, 2, 4, 6].map((c) => reading("edge", c, c | 1)),
	...[0, 1, 4, 5].map((c) => reading("edge", c, c | 2)),
	...[0, 1, 2, 3].map((c) => reading("edge", c, c | 4)),
	...[
		[0, 1, 2],
		[4, 1, 2],
		[0, 1, 4],
		[2, 1, 4],
		[0, 2, 4],
		[1, 2, 4],
	].flatMap(([from, u, v]) => [reading("diagonal", from, from | u | v), reading("diagonal", from | u, from | v)]),
];

export interface MeasuredBlock {
	/** nx, ny, nz, b of the six faces in the order left, right, front, back, bed, top: outward unit normals, stone where n · x ≤ b, mm. */
	readonly planes: Float64Array;
	/** The eight corners, in the order of their bits. */
	readonly corners: readonly Vec3[];
	/** Reading less fitted length, mm, in the order of the readings. */
	readonly left: readonly number[];
	/** Standard deviation of one reading as the readings themselves tell it, mm. */
	readonly spread: number;
	/** The reading that does not agree with the others, if there is one: which, by how much it is off, and the length expected. */
	readonly wrong: { readonly index: number; readonly off: number; readonly expected: number } | null;
}

const UNKNOWNS = 12;
/** Slopes and sides: the face of each unknown (0 left … 5 top) and what it is multiplied by: 0 nothing, 1 x, 2 y, 3 z. */
const TERMS: readonly (readonly [number, number])[] = [
	[2, 3],
	[0, 2],
	[0, 3],
	[1, 0],
	[1, 2],
	[1, 3],
	[3, 0],
	[3, 1],
	[3, 3],
	[5, 0],
	[5, 1],
	[5, 2],
];

/** A reading is named when its studentised residual is over this: fewer than 1 block in 100 of sound readings are asked about for nothing. */
const NAMED_FROM = 3.8;
/** How well a tape is read on stone, mm (common practice, no source), and how many readings' worth that counts as. */
const USUAL_SPREAD = 0.5;
const USUAL_WEIGHT = 10;
const MOST_STEPS = 30;
/** An edge that differs from the mean of its four by more than this share is no reading of a block. */
const FAR_OFF = 0.3;

/** The block of 24 readings, mm, in the order of `BLOCK_READINGS`. Refuses readings of which no block can be made. */
export function measuredBlock(lengths: readonly number[]): MeasuredBlock {
	if (lengths.length !== BLOCK_READINGS.length) throw new Refusal("stone.readings", { found: lengths.length });
	lengths.forEach((found, i) => {
		if (!(found > 0 && Number.isFinite(found)))
			throw new Refusal("stone.reading", { reading: BLOCK_READINGS[i].words, found });
	});
	const everything = lengths.map(() => 1);
	const start = startOf(lengths);
	const fitted = fit(lengths, everything, start);
	const wrong = oddReading(lengths, fitted);
	const faces = planesOf(fitted.unknowns);
	return { planes: faces, corners: fitted.corners, left: fitted.left, spread: fitted.spread, wrong };
}

function startOf(lengths: readonly number[]): Float64Array {
	const unknowns = new Float64Array(UNKNOWNS);
	[3, 6, 9].forEach((at, axis) => {
		const four = lengths.slice(4 * axis, 4 * axis + 4);
		// The middle two: one wrong reading does not send the fit astray.
		const sorted = [...four].sort((a, b) => a - b);
		unknowns[at] = (sorted[1] + sorted[2]) / 2;
		four.forEach((found, i) => {
			if (Math.abs(found - unknowns[at]) > FAR_OFF * unknowns[at])
				throw new Refusal("stone.readingOff", {
					reading: BLOCK_READINGS[4 * axis + i].words,
					found,
					expected: unknowns[at],
				});
		});
	});
	return unknowns;
}

interface Fitted {
	readonly unknowns: Float64Array;
	readonly corners: readonly Vec3[];
	readonly left: readonly number[];
	readonly spread: number;
	/** Sum of squares of what is left over. */
	readonly squares: number;
	/** How much of an error in each reading shows in what it leaves over, 0 to 1. */
	readonly shown: readonly number[];
}

/** Weighted least squares; weights are 1, or 0 for a reading that is left out. */
function fit(lengths: readonly number[], weights: readonly number[], start: Float64Array): Fitted {
	const unknowns = start.slice();
	let last = Infinity;
	for (let step = 0; ; step++) {
		const { corners, rows, left } = linearise(lengths, unknowns);
		const normal = new Float64Array(UNKNOWNS * UNKNOWNS);
		const right = new Float64Array(UNKNOWNS);
		let squares = 0;
		for (let k = 0; k < lengths.length; k++) {
			if (weights[k] === 0) continue;
			squares += left[k] * left[k];
			for (let i = 0; i < UNKNOWNS; i++) {
				right[i] += rows[UNKNOWNS * k + i] * left[k];
				for (let j = 0; j < UNKNOWNS; j++) normal[UNKNOWNS * i + j] += rows[UNKNOWNS * k + i] * rows[UNKNOWNS * k + j];
			}
		}
		const inverse = symmetricInverse(normal, UNKNOWNS);
		if (inverse === null) throw new Refusal("stone.readingsNoBlock", {});
		if (step === MOST_STEPS || last - squares <= 1e-12 * squares + 1e-18) {
			const shown = lengths.map((_, k) => {
				let held = 0;
				for (let i = 0; i < UNKNOWNS; i++)
					for (let j = 0; j < UNKNOWNS; j++)
						held += rows[UNKNOWNS * k + i] * inverse[UNKNOWNS * i + j] * rows[UNKNOWNS * k + j];
				return Math.max(0, 1 - weights[k] * held);
			});
			const over = weights.reduce((sum, w) => sum + w, 0) - UNKNOWNS;
			return { unknowns, corners, left, squares, shown, spread: Math.sqrt(squares / over) };
		}
		last = squares;
		for (let i = 0; i < UNKNOWNS; i++)
			for (let j = 0; j < UNKNOWNS; j++) unknowns[i] += inverse[UNKNOWNS * i + j] * right[j];
	}
}

/** The reading without which the rest agrees best, when that is far better. */
function oddReading(lengths: readonly number[], whole: Fitted): MeasuredBlock["wrong"] {
	let index = -1;
	let most = 0;
	whole.left.forEach((v, k) => {
		// Removing reading k lowers the sum of squares by v² ÷ its share that shows.
		const gain = whole.shown[k] > 1e-6 ? (v * v) / whole.shown[k] : 0;
		if (gain > most) {
			most = gain;
			index = k;
		}
	});
	if (index < 0) return null;
	const without = fit(
		lengths,
		lengths.map((_, k) => (k === index ? 0 : 1)),
		whole.unknowns,
	);
	// Eleven readings over say little about their own spread; what is usual steadies it.
	const over = lengths.length - 1 - UNKNOWNS;
	const spread = Math.sqrt((without.squares + USUAL_WEIGHT * USUAL_SPREAD * USUAL_SPREAD) / (over + USUAL_WEIGHT));
	if (!(Math.sqrt(most) > NAMED_FROM * spread)) return null;
	return { index, off: without.left[index], expected: lengths[index] - without.left[index] };
}

/** Corners at these unknowns, what each reading leaves over, and by how much each unknown lengthens it. */
function linearise(lengths: readonly number[], unknowns: Float64Array) {
	const planes = planesOf(unknowns);
	const corners: Vec3[] = [];
	/** Per corner, the three columns of the inverse of its planes' normals: how it moves when a plane is moved out. */
	const moves: (readonly [readonly [number, Vec3], readonly [number, Vec3], readonly [number, Vec3]])[] = [];
	for (let c = 0; c < 8; c++) {
		const faces = [c & 1 ? 1 : 0, c & 2 ? 3 : 2, c & 4 ? 5 : 4];
		const [n0, n1, n2] = faces.map((f): Vec3 => slopesOf(planes, f));
		const offsets = faces.map((f) => planes[4 * f + 3] / planes[4 * f + axisOf(f)]);
		const det = dot(n0, cross(n1, n2));
		const columns = [cross(n1, n2), cross(n2, n0), cross(n0, n1)].map((v) => scale(v, 1 / det));
		const at = [0, 1, 2].map(
			(k) => columns[0][k] * offsets[0] + columns[1][k] * offsets[1] + columns[2][k] * offsets[2],
		);
		corners.push([at[0], at[1], at[2]]);
		moves.push([
			[faces[0], columns[0]],
			[faces[1], columns[1]],
			[faces[2], columns[2]],
		]);
	}
	const rows = new Float64Array(UNKNOWNS * lengths.length);
	const left = BLOCK_READINGS.map(({ between: [a, b] }, k) => {
		const far = distance(corners[a], corners[b]);
		const along = scale(sub(corners[b], corners[a]), 1 / far);
		TERMS.forEach(([face, by], i) => {
			let longer = 0;
			for (const [c, sign] of [
				[a, -1],
				[b, 1],
			]) {
				const moved = moves[c].find(([f]) => f === face);
				if (moved) longer += sign * dot(along, moved[1]) * (by === 0 ? 1 : corners[c][by - 1]);
			}
			rows[UNKNOWNS * k + i] = longer;
		});
		return lengths[k] - far;
	});
	return { corners, rows, left };
}

const axisOf = (face: number): number => face >> 1;

/** A plane's normal with 1 along its own axis, as its equation was set up. */
function slopesOf(planes: Float64Array, face: number): Vec3 {
	const by = planes[4 * face + axisOf(face)];
	return [planes[4 * face] / by, planes[4 * face + 1] / by, planes[4 * face + 2] / by];
}

function planesOf(unknowns: Float64Array): Float64Array {
	const planes = new Float64Array(24);
	for (let f = 0; f < 6; f++) planes[4 * f + axisOf(f)] = 1;
	TERMS.forEach(([face, by], i) => {
		if (by === 0) planes[4 * face + 3] += unknowns[i];
		else planes[4 * face + by - 1] -= unknowns[i];
	});
	for (let f = 0; f < 6; f++) {
		const [x, y, z] = planes.subarray(4 * f, 4 * f + 3);
		const by = (f & 1 ? 1 : -1) / Math.sqrt(x * x + y * y + z * z);
		for (let k = 0; k < 4; k++) planes[4 * f + k] = planes[4 * f + k] * by + 0;
	}
	return planes;
}
