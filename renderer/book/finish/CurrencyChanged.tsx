/** What another sign before the sums means, and what it does not. */

export function CurrencyChanged({ currency, standard }: { currency: string; standard: string }) {
	if (currency === standard) return null;
	return (
		<p class="reason" role="status">
			Only the sign has changed: every figure stays as it is, and nothing is converted from {standard}.
		</p>
	);
}
