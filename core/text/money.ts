/** Sums and hours for people: rounded to what a quote can know. */

const THOUSANDS = /\B(?=(\d{3})+$)/g;

/** A sum with its currency before it, to whole units from 100 on, to hundredths below. */
export function moneyText(sum: number, currency: string): string {
	const [whole, part] = (sum >= 100 ? String(Math.round(sum)) : sum.toFixed(2)).split(".");
	const written = whole.replace(THOUSANDS, ",") + (part === undefined ? "" : `.${part}`);
	return currency === "" ? written : `${currency} ${written}`;
}

export const moneyRange = (low: number, high: number, currency: string): string =>
	`${moneyText(low, currency)} to ${moneyText(high, "")}`;

/** Hours to the half from 10 on, to the tenth below. */
export const hoursText = (hours: number): string =>
	`${hours >= 10 ? (Math.round(hours * 2) / 2).toFixed(1).replace(".0", "") : hours.toFixed(1)} h`;

/** An amount with as many digits as it needs to be told from nothing. */
export const amountText = (amount: number): string =>
	Number.isInteger(amount) || amount >= 100
		? String(Math.round(amount))
		: amount >= 1
			? amount.toFixed(1)
			: amount.toFixed(3);
