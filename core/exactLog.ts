/**
 * Natural logarithm and exponential where they decide something, from + − × ÷ alone: the built-in ones differ in the last
 * digit between Node and browsers (handbook 3).
 */

const LN2 = Math.LN2;
/** ln 2 in two parts, so that k·LN2_HIGH is exact for |k| < 2^20. */
const LN2_HIGH = 0.6931471803691238;
const LN2_LOW = 1.9082149292705877e-10;
const SQRT2 = Math.SQRT2;

/** ln x for a normal x > 0, error below 2e-16 of the result or of 1; −Infinity at 0. */
export function ln(x: number): number {
	if (!(x > 0)) return x === 0 ? Number.NEGATIVE_INFINITY : Number.NaN;
	if (x === Number.POSITIVE_INFINITY) return x;
	let m = x;
	let k = 0;
	// Powers of two multiply without rounding.
	while (m >= 4294967296) {
		m /= 4294967296;
		k += 32;
	}
	while (m < 2.3283064365386963e-10) {
		m *= 4294967296;
		k -= 32;
	}
	while (m > SQRT2) {
		m /= 2;
		k++;
	}
	while (m < SQRT2 / 2) {
		m *= 2;
		k--;
	}
	// ln m = 2 artanh s; |s| ≤ 0.1716, the first term left out is below 1e-18.
	const s = (m - 1) / (m + 1);
	const s2 = s * s;
	let sum = 0;
	for (let n = 23; n >= 3; n -= 2) sum = s2 * (sum + 1 / n);
	return k * LN2_HIGH + (2 * s * (1 + sum) + k * LN2_LOW);
}

/** e^x; 0 where it is under the least normal number. */
export function exp(x: number): number {
	if (!(x > -708)) return Number.isNaN(x) ? x : 0;
	if (x > 709) return Number.POSITIVE_INFINITY;
	const k = Math.round(x / LN2);
	const r = x - k * LN2_HIGH - k * LN2_LOW;
	let sum = 1;
	for (let n = 16; n >= 1; n--) sum = 1 + (r / n) * sum;
	const half = Math.trunc(k / 2);
	return sum * powerOfTwo(half) * powerOfTwo(k - half);
}

/** 2^k for whole |k| ≤ 1022, exact. */
function powerOfTwo(k: number): number {
	let base = k < 0 ? 0.5 : 2;
	let left = Math.abs(k);
	let product = 1;
	while (left > 0) {
		if (left % 2 === 1) product *= base;
		base *= base;
		left = Math.floor(left / 2);
	}
	return product;
}
