/**
 * A placement that keeps flaws away from the places that must be sound.
 *
 * At one turn every flaw either passes above or below each of those places; along the flaw's normal they lie in an order, so
 * there are few ways to part them, and each is a linear programme of its own: the best place of that turn is found for
 * certain. Over the turns it is a search from many seeded ones, each improved by small random turns. When the figure may
 * not turn at all, the answer is the best there is.
 */
import type { Job } from "../job.ts";
import { type Random, seededRandom } from "../random.ts";
import { dot, type Mat3, multiply, type Placement, rotationFromQuaternion, sub, turn, type Vec3 } from "../vector.ts";
import type { Flaw } from "./flaws.ts";
import { keepsLimits, type ReadyLimit, type Turning } from "./turning.ts";

/** The best place at a turn under further limits n · x ≤ b on the place of the figure's middle; null when there is none. */
export type PlaceAt = (
	rotation: Mat3,
	more: readonly { readonly normal: Vec3; readonly limit: number }[],
) => { readonly placement: Placement; readonly value: number } | null;

export interface KeepClearQuestion {
	readonly flaws: readonly Flaw[];
	/** Places of the figure that must be sound, model frame. */
	readonly sound: readonly Vec3[];
	/** From a flaw's skin, mm. */
	readonly within: number;
	readonly turning: Turning;
	readonly limits: readonly ReadyLimit[];
	/** The best turn without flaws. */
	readonly first: Mat3;
	/** The figure's middle, model frame, whose place the limits are on, in the stone frame. */
	readonly middle: Vec3;
	readonly placeAt: PlaceAt;
}

const FREE_STARTS = 900;
const UPRIGHT_STARTS = 240;
const FINALISTS = 5;
const IMPROVEMENTS = 60;
/** Ways to part the places that are tried at one turn, over all flaws together. */
const MOST_WAYS = 48;

type Limit = { readonly normal: Vec3; readonly limit: number };

/** The placement with most to spare among those found that keep every flaw clear; null when none was found. */
export function* keepClear(question: KeepClearQuestion): Job<{ placement: Placement; value: number } | null> {
	const { turning, limits, first } = question;
	const random = seededRandom(23);
	let best: Found | null = null;
	const tried: Found[] = [];
	const starts = [first, ...startTurns(turning, limits, first, random)];
	for (const [i, rotation] of starts.entries()) {
		const found = bestAt(question, rotation);
		if (found) tried.push(found);
		if (i % 20 === 19) yield { stage: "keeping the flaws clear", share: (0.6 * i) / starts.length };
	}
	tried.sort((a, b) => b.value - a.value);
	for (const [i, start] of tried.slice(0, FINALISTS).entries()) {
		let at = start;
		let step = 0.12;
		for (let n = 0; turning.kind !== "fixed" && n < IMPROVEMENTS; n++) {
			const small = (): number => (step * random.normal()) / 2;
			const q = turning.kind === "upright" ? ([0, 0, small(), 1] as const) : ([small(), small(), small(), 1] as const);
			const rotation = multiply(rotationFromQuaternion(q), at.placement.rotation);
			const found = keepsLimits(limits, rotation) ? bestAt(question, rotation) : null;
			if (found && found.value > at.value) at = found;
			else step *= 0.93;
			if (n % 10 === 9) yield { stage: "keeping the flaws clear", share: 0.6 + (0.4 * i) / FINALISTS };
		}
		if (!best || at.value > best.value) best = at;
	}
	return best;
}

interface Found {
	readonly placement: Placement;
	readonly value: number;
}

function bestAt({ flaws, sound, within, middle, placeAt }: KeepClearQuestion, rotation: Mat3): Found | null {
	let ways: Limit[][] = [[]];
	for (const flaw of flaws) {
		const heights = sound.map((at) => dot(flaw.normal, turn(rotation, sub(at, middle)))).sort((a, b) => a - b);
		const apart = flaw.half + within;
		const parted: Limit[][] = [];
		for (let below = 0; below <= heights.length; below++) {
			const high = below > 0 ? heights[below - 1] : null;
			const low = below < heights.length ? heights[below] : null;
			if (high !== null && low !== null && low - high < 2 * apart) continue;
			const limits: Limit[] = [];
			// n · (x + q) ≤ offset − apart for the places below, and the other way round for those above.
			if (high !== null) limits.push({ normal: flaw.normal, limit: flaw.offset - apart - high });
			if (low !== null) {
				const [nx, ny, nz] = flaw.normal;
				limits.push({ normal: [-nx, -ny, -nz], limit: -(flaw.offset + apart) + low });
			}
			parted.push(limits);
		}
		ways = ways.flatMap((way) => parted.map((more) => [...way, ...more])).slice(0, MOST_WAYS);
	}
	let best: Found | null = null;
	for (const way of ways) {
		const found = placeAt(rotation, way);
		if (found && (!best || found.value > best.value)) best = found;
	}
	return best;
}

function startTurns(turning: Turning, limits: readonly ReadyLimit[], first: Mat3, random: Random): Mat3[] {
	if (turning.kind === "fixed") return [];
	const turns: Mat3[] = [];
	if (turning.kind === "upright") {
		for (let i = 0; i < UPRIGHT_STARTS; i++) {
			// Evenly over the quarter turns on either side and, by the half turn, over the rest.
			const t = (2 * (i % (UPRIGHT_STARTS / 2)) + 1) / (UPRIGHT_STARTS / 2) - 1;
			turns.push(rotationFromQuaternion(i % 2 === 0 ? [0, 0, t, 1] : [0, 0, 1, -t]));
		}
	} else {
		for (let i = 0; i < FREE_STARTS; i++) {
			const wide = [0.1, 0.4, 1.2][i % 3];
			const small = rotationFromQuaternion([wide * random.normal(), wide * random.normal(), wide * random.normal(), 1]);
			const anyhow = rotationFromQuaternion([random.normal(), random.normal(), random.normal(), random.normal()]);
			turns.push(i % 4 === 3 && limits.length === 0 ? anyhow : multiply(small, first));
		}
	}
	return turns.filter((rotation) => keepsLimits(limits, rotation));
}
