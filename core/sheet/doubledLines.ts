/**
 * Thins out lines that run along one another: with scan noise an outline folds back on itself where the surface turns away,
 * within a hair's breadth on the paper.
 */

/** Stretches that double another for less than this are kept, mm: they are crossings. */
const SHORTEST = 1.5;
/** A line counts as another one to itself from this far along it, in multiples of `apart`. */
const FAR_ALONG = 6;

/**
 * Runs (x, y, z of each place, mm of the view) without the stretches that lie within `apart` mm of a longer run, or of an
 * earlier part of the same one. Longest first; equal ones in their order.
 */
export function dropDoubled(runs: readonly number[][], apart: number): number[][] {
	const order = runs.map((run, i) => ({ i, length: run.length })).sort((a, b) => b.length - a.length || a.i - b.i);
	/** Places that are kept, by cell of side `apart`: x, y, run, way along it. */
	const cells = new Map<number, number[]>();
	const key = (cx: number, cy: number): number => cx * 0x200000 + cy;
	const kept: number[][] = [];
	for (const { i } of order) {
		const run = runs[i];
		const n = run.length / 3;
		const ways = wayAlong(run);
		const doubled = new Uint8Array(n);
		const taken = (x: number, y: number, way: number): boolean => {
			const cx = Math.floor(x / apart);
			const cy = Math.floor(y / apart);
			for (let dx = -1; dx <= 1; dx++)
				for (let dy = -1; dy <= 1; dy++) {
					const cell = cells.get(key(cx + dx, cy + dy));
					if (!cell) continue;
					for (let k = 0; k < cell.length; k += 4) {
						if (cell[k + 2] === i && way - cell[k + 3] < FAR_ALONG * apart) continue;
						const ex = cell[k] - x;
						const ey = cell[k + 1] - y;
						if (ex * ex + ey * ey < apart * apart) return true;
					}
				}
			return false;
		};
		for (let k = 0; k < n; k++) {
			const x = run[3 * k];
			const y = run[3 * k + 1];
			if (taken(x, y, ways[k])) {
				doubled[k] = 1;
				continue;
			}
			const at = key(Math.floor(x / apart), Math.floor(y / apart));
			const cell = cells.get(at);
			if (cell) cell.push(x, y, i, ways[k]);
			else cells.set(at, [x, y, i, ways[k]]);
		}
		for (const piece of keptPieces(run, doubled, ways)) kept.push(piece);
	}
	return kept;
}

function wayAlong(run: readonly number[]): Float64Array {
	const ways = new Float64Array(run.length / 3);
	for (let k = 1; k < ways.length; k++) {
		const dx = run[3 * k] - run[3 * k - 3];
		const dy = run[3 * k + 1] - run[3 * k - 2];
		ways[k] = ways[k - 1] + Math.sqrt(dx * dx + dy * dy);
	}
	return ways;
}

/** The pieces between doubled stretches of some length; each keeps one doubled place at its ends, so that lines still meet. */
function keptPieces(run: readonly number[], doubled: Uint8Array, ways: Float64Array): number[][] {
	const n = doubled.length;
	const pieces: number[][] = [];
	let piece: number[] = [];
	const put = (k: number): void => {
		piece.push(run[3 * k], run[3 * k + 1], run[3 * k + 2]);
	};
	const close = (): void => {
		if (piece.length >= 6) pieces.push(piece);
		piece = [];
	};
	for (let k = 0; k < n; ) {
		if (!doubled[k]) {
			put(k++);
			continue;
		}
		let end = k;
		while (end < n && doubled[end]) end++;
		if (ways[end - 1] - ways[k] < SHORTEST && k > 0 && end < n) {
			for (; k < end; k++) put(k);
			continue;
		}
		if (k > 0) put(k);
		close();
		if (end < n) put(end - 1);
		k = end;
	}
	close();
	return pieces;
}
