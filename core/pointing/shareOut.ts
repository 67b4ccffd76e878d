/** Sharing a number of points over the rounds. */

/**
 * Whole shares of `total` in the proportion of the weights, each at least 1, by the largest remainder (the method of A.
 * Hamilton); ties go to the earlier. They add up to `total`, or to their number where that is more. Weights of nothing at
 * all share evenly.
 */
export function shareOut(total: number, weights: readonly number[]): number[] {
	const n = weights.length;
	const sum = weights.reduce((all, weight) => all + weight, 0);
	const free = Math.max(0, total - n);
	const wanted = weights.map((weight) => Math.max(0, total * (sum > 0 ? weight / sum : 1 / n) - 1));
	const over = wanted.reduce((all, want) => all + want, 0);
	const exact = wanted.map((want) => (over > 0 ? (free * want) / over : 0));
	const shares = exact.map((share) => 1 + Math.floor(share));
	let left = free - shares.reduce((all, share) => all + share - 1, 0);
	const byRemainder = exact
		.map((share, i) => ({ i, rest: share - Math.floor(share) }))
		.sort((a, b) => b.rest - a.rest || a.i - b.i);
	for (const { i } of byRemainder) {
		if (left <= 0) break;
		shares[i]++;
		left--;
	}
	return shares;
}
