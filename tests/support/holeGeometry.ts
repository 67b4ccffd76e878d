/**
 * Holes as plain geometry, written apart from the program's own: x runs along the line from the target out of the stone,
 * rho is the distance from the line. All lengths mm.
 */

export interface PlainHole {
	readonly tip: "ball" | "pointed" | "flat";
	/** Radius of the hole. */
	readonly r: number;
	readonly pointAngleDeg: number;
}

/** Distance from a place to the hole whose tip stands at x = tip; 0 inside. */
export function offHole({ tip: end, r, pointAngleDeg }: PlainHole, tip: number, x: number, rho: number): number {
	if (end === "ball") return Math.max(0, Math.hypot(Math.min(0, x - (tip + r)), rho) - r);
	if (end === "flat") return Math.hypot(Math.max(0, tip - x), Math.max(0, rho - r));
	const length = r / Math.tan((pointAngleDeg * Math.PI) / 360);
	const inside = x >= tip + length ? rho <= r : (x - tip) * r >= rho * length;
	if (inside) return 0;
	const toSegment = (px: number, py: number): number => {
		const share = Math.max(0, Math.min(1, ((x - tip) * px + rho * py) / (px * px + py * py)));
		return Math.hypot(x - tip - share * px, rho - share * py);
	};
	return Math.min(toSegment(length, r), x >= tip + length ? Math.abs(rho - r) : Number.POSITIVE_INFINITY);
}

/** Radius of the hole as aimed at x, less than 0 in front of its tip. */
export function radiusAt({ tip: end, r, pointAngleDeg }: PlainHole, tip: number, x: number): number {
	const back = x - tip;
	if (back < 0) return -1;
	if (end === "flat") return r;
	if (end === "ball") return back >= r ? r : Math.sqrt(r * r - (r - back) ** 2);
	return Math.min(r, back * Math.tan((pointAngleDeg * Math.PI) / 360));
}

/** The tip value at which `touches` ends, by halving: `touches` holds below it and not above it. */
export function lastTouch(touches: (tip: number) => boolean, low = -500, high = 500): number {
	if (!touches(low)) return Number.NEGATIVE_INFINITY;
	let [from, to] = [low, high];
	for (let i = 0; i < 60; i++) {
		const middle = (from + to) / 2;
		if (touches(middle)) from = middle;
		else to = middle;
	}
	return to;
}
