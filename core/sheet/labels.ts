/**
 * Where the numbers of a map stand: beside their marks where there is room, further off with a leader line where it is crowded,
 * never over one another, over a mark or over the margin. Greedy with a second chance for what found no room.
 */

/** A number that wants a place; mm on the paper. */
export interface LabelWish {
	readonly x: number;
	readonly y: number;
	/** Of the mark, which no number may cover. */
	readonly radius: number;
	readonly width: number;
	readonly height: number;
}

export interface Box {
	readonly x0: number;
	readonly y0: number;
	readonly x1: number;
	readonly y1: number;
}

export interface PlacedLabel {
	readonly box: Box;
	/** From the mark's rim to the number, or null where the number stands at its mark. */
	readonly leader: readonly [number, number, number, number] | null;
}

/** Distances from a mark's rim to its number, mm: the first one needs no leader. */
const RINGS: readonly number[] = [0.5, 3, 5.5, 8, 11, 14, 18, 22, 27, 33, 40, 48, 58, 70];
/** Directions that are tried, as unit vectors, the preferred ones first. */
const DIRECTIONS: readonly (readonly [number, number])[] = [
	[1, 0],
	[-1, 0],
	[0, -1],
	[0, 1],
	[0.8, -0.6],
	[-0.8, -0.6],
	[0.8, 0.6],
	[-0.8, 0.6],
	[0.96, -0.28],
	[-0.96, -0.28],
	[0.96, 0.28],
	[-0.96, 0.28],
	[0.28, -0.96],
	[-0.28, -0.96],
	[0.28, 0.96],
	[-0.28, 0.96],
	[0.6, -0.8],
	[-0.6, -0.8],
	[0.6, 0.8],
	[-0.6, 0.8],
];
/** Room kept around a number, mm: more at its ends, so that two numbers side by side are not read as one. */
const AIR_X = 1.4;
const AIR_Y = 0.5;
const SECOND_CHANCES = 8;

const overlap = (a: Box, b: Box, airX: number, airY: number): boolean =>
	a.x0 < b.x1 + airX && b.x0 < a.x1 + airX && a.y0 < b.y1 + airY && b.y0 < a.y1 + airY;

/** True where the segment meets the box: bounds first, then the box's corners on one side of the line or on both. */
function crosses(s: readonly [number, number, number, number], b: Box, air: number): boolean {
	const x0 = b.x0 - air;
	const x1 = b.x1 + air;
	const y0 = b.y0 - air;
	const y1 = b.y1 + air;
	if (Math.max(s[0], s[2]) < x0 || Math.min(s[0], s[2]) > x1) return false;
	if (Math.max(s[1], s[3]) < y0 || Math.min(s[1], s[3]) > y1) return false;
	const a = side(s[0], s[1], s[2], s[3], x0, y0);
	const c = side(s[0], s[1], s[2], s[3], x1, y0);
	const d = side(s[0], s[1], s[2], s[3], x1, y1);
	const e = side(s[0], s[1], s[2], s[3], x0, y1);
	return Math.min(a, c, d, e) <= 0 && Math.max(a, c, d, e) >= 0;
}

const side = (ax: number, ay: number, bx: number, by: number, px: number, py: number): number =>
	(bx - ax) * (py - ay) - (by - ay) * (px - ax);

function segmentsCross(a: readonly [number, number, number, number], b: readonly [number, number, number, number]) {
	return (
		side(a[0], a[1], a[2], a[3], b[0], b[1]) * side(a[0], a[1], a[2], a[3], b[2], b[3]) < 0 &&
		side(b[0], b[1], b[2], b[3], a[0], a[1]) * side(b[0], b[1], b[2], b[3], a[2], a[3]) < 0
	);
}

/** The number's box and leader when it stands `distance` off its mark in a direction. */
function candidate(w: LabelWish, distance: number, dx: number, dy: number): PlacedLabel {
	// The box touches the ring from outside: its centre lies further out by its half size along the direction.
	const reach = w.radius + distance;
	const halfW = w.width / 2;
	const halfH = w.height / 2;
	const away = Math.min(dx === 0 ? Infinity : halfW / Math.abs(dx), dy === 0 ? Infinity : halfH / Math.abs(dy));
	const cx = w.x + dx * (reach + away);
	const cy = w.y + dy * (reach + away);
	const box = { x0: cx - halfW, y0: cy - halfH, x1: cx + halfW, y1: cy + halfH };
	if (distance <= RINGS[0]) return { box, leader: null };
	return {
		box,
		leader: [w.x + dx * w.radius, w.y + dy * w.radius, w.x + dx * (reach - 0.35), w.y + dy * (reach - 0.35)],
	};
}

/**
 * Places every number inside `frame`, clear of the boxes of `taken`; null stands for a number that found no room.
 * The answer depends on the order of the wishes alone where two places are equally good.
 */
export function placeLabels(wishes: readonly LabelWish[], frame: Box, taken: readonly Box[]): (PlacedLabel | null)[] {
	const marks = wishes.map((w) => ({ x0: w.x - w.radius, y0: w.y - w.radius, x1: w.x + w.radius, y1: w.y + w.radius }));
	// The crowded ones choose first.
	const crowd = wishes.map((w) => wishes.filter((o) => Math.abs(o.x - w.x) < 14 && Math.abs(o.y - w.y) < 9).length);
	let order = wishes.map((_, i) => i).sort((a, b) => crowd[b] - crowd[a] || a - b);
	let best: (PlacedLabel | null)[] = [];
	let fewest = Infinity;
	for (let round = 0; round <= SECOND_CHANCES; round++) {
		const { placed, failed } = placeInOrder(wishes, marks, order, frame, taken);
		if (failed.length < fewest) {
			fewest = failed.length;
			best = placed;
		}
		if (failed.length === 0) break;
		// What found no room goes first next time.
		const first = new Set(failed);
		order = [...failed, ...order.filter((i) => !first.has(i))];
	}
	return best;
}

function placeInOrder(
	wishes: readonly LabelWish[],
	marks: readonly Box[],
	order: readonly number[],
	frame: Box,
	taken: readonly Box[],
): { placed: (PlacedLabel | null)[]; failed: number[] } {
	const placed: (PlacedLabel | null)[] = wishes.map(() => null);
	const done: PlacedLabel[] = [];
	const failed: number[] = [];
	const free = (i: number, c: PlacedLabel): boolean => {
		const { box, leader } = c;
		if (box.x0 < frame.x0 || box.y0 < frame.y0 || box.x1 > frame.x1 || box.y1 > frame.y1) return false;
		for (const t of taken) if (overlap(box, t, AIR_X, AIR_Y)) return false;
		for (let m = 0; m < marks.length; m++) {
			if (m !== i && overlap(box, marks[m], 0.25, 0.25)) return false;
			// A mark that covers this one's own cannot be kept clear of.
			if (m !== i && leader && crosses(leader, marks[m], 0) && !overlap(marks[m], marks[i], 0, 0)) return false;
		}
		for (const d of done) {
			if (overlap(box, d.box, AIR_X, AIR_Y)) return false;
			if (leader && crosses(leader, d.box, 0.2)) return false;
			if (d.leader && crosses(d.leader, box, 0.2)) return false;
			if (leader && d.leader && segmentsCross(leader, d.leader)) return false;
		}
		return true;
	};
	for (const i of order) {
		let found: PlacedLabel | null = null;
		for (let r = 0; r < RINGS.length && !found; r++)
			for (const [dx, dy] of DIRECTIONS) {
				const c = candidate(wishes[i], RINGS[r], dx, dy);
				if (free(i, c)) {
					found = c;
					break;
				}
			}
		placed[i] = found;
		if (found) done.push(found);
		else failed.push(i);
	}
	return { placed, failed };
}
