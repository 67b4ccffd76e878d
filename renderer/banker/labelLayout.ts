/**
 * Which marks get their number: no number overlaps another or a numbered mark, and where there is no room the less important
 * ones stay dots. Greedy by importance, four places for each number, which is quick enough for every frame.
 */

export interface Labelled {
	/** Middle of the mark, pixels, y downwards. */
	readonly x: number;
	readonly y: number;
	/** Half the side of the square that the mark needs, pixels. */
	readonly radius: number;
	/** Of the number, pixels. */
	readonly width: number;
	readonly height: number;
	/** Greater comes first; ties go to the earlier mark. */
	readonly priority: number;
}

/** Upper left corner of the number, or null where the mark stays a dot. */
export type LabelPlace = { readonly x: number; readonly y: number } | null;

interface Box {
	readonly x0: number;
	readonly y0: number;
	readonly x1: number;
	readonly y1: number;
}

const CELL = 40;
/** Between mark and number, pixels. */
const GAP = 2;

export function placeLabels(marks: readonly Labelled[]): LabelPlace[] {
	const order = marks.map((_, i) => i).sort((a, b) => marks[b].priority - marks[a].priority || a - b);
	const cells = new Map<number, Box[]>();
	const eachCell = (box: Box, visit: (key: number) => boolean): boolean => {
		for (let x = Math.floor(box.x0 / CELL); x <= Math.floor(box.x1 / CELL); x++)
			for (let y = Math.floor(box.y0 / CELL); y <= Math.floor(box.y1 / CELL); y++)
				if (!visit(x * 100_003 + y)) return false;
		return true;
	};
	const free = (box: Box): boolean =>
		eachCell(box, (key) => {
			for (const other of cells.get(key) ?? [])
				if (box.x0 < other.x1 && other.x0 < box.x1 && box.y0 < other.y1 && other.y0 < box.y1) return false;
			return true;
		});
	const take = (box: Box): void => {
		eachCell(box, (key) => {
			const cell = cells.get(key);
			if (cell) cell.push(box);
			else cells.set(key, [box]);
			return true;
		});
	};

	const places = new Array<LabelPlace>(marks.length).fill(null);
	for (const i of order) {
		const { x, y, radius, width, height } = marks[i];
		const own: Box = { x0: x - radius, y0: y - radius, x1: x + radius, y1: y + radius };
		if (!free(own)) continue;
		const corners: readonly (readonly [number, number])[] = [
			[x + radius + GAP, y - height / 2],
			[x - radius - GAP - width, y - height / 2],
			[x - width / 2, y - radius - GAP - height],
			[x - width / 2, y + radius + GAP],
		];
		for (const [left, top] of corners) {
			const box: Box = { x0: left, y0: top, x1: left + width, y1: top + height };
			if (!free(box)) continue;
			take(own);
			take(box);
			places[i] = { x: left, y: top };
			break;
		}
	}
	return places;
}
