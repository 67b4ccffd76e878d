/** Decimal numbers read straight from bytes: the same double as `Number(text)`, without making the text. */

/** 10^0 … 10^22, all of them exact doubles. */
const POWERS_OF_TEN = new Float64Array([
	1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20,
	1e21, 1e22,
]);
/** From 2^53 on, adding a digit may have been rounded. */
const FIRST_INEXACT = 9007199254740992;
/** Sign, nine digits, point, exponent of four digits with its mark and sign, and the byte behind: no short number is longer. */
const SHORT_NUMBER = 20;
/** The point as what (byte − 48) >>> 0 makes of it. */
const POINT = (46 - 48) >>> 0;
const DECIMAL = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;

/** The bytes as text, one character a byte; for words in messages and for the rare number that the fast path leaves. */
export function textOf(bytes: Uint8Array, from: number, to: number): string {
	let text = "";
	for (let i = from; i < to; i++) text += String.fromCharCode(bytes[i]);
	return text;
}

/** A found word short enough for a sentence, without bytes that a terminal would act on. */
export function clip(word: string): string {
	const plain = word.replace(/[^\x20-\x7e]/g, "?");
	return plain.length > 24 ? `${plain.slice(0, 24)}…` : plain;
}

/**
 * Reads one number after another from bytes. A number runs to the next byte of 32 or less.
 * A decimal mantissa below 2^53 with a power of ten up to 22 is one exact product or quotient, hence rounded correctly
 * (Clinger 1990, the fast case); anything longer goes through `Number`.
 */
export class NumberReader {
	/** Index after the last byte of the number read last. */
	end = 0;
	/** How many numbers had a decimal comma, or a Fortran D before the exponent. */
	commas = 0;

	/** The number that starts at `from`; NaN for anything that is not a finite decimal number. */
	read(bytes: Uint8Array, from: number, limit: number): number {
		if (limit - from < SHORT_NUMBER) return this.#long(bytes, from, limit);
		// The usual number, up to nine digits in all: whole numbers of 32 bits, no check against the limit.
		let i = from;
		let c = bytes[i];
		const negative = c === 45;
		if (negative || c === 43) c = bytes[++i];
		const first = i;
		const stop = i + 11;
		let mantissa = 0;
		// Below 0 wraps round to far above 9: one comparison tells a digit.
		let digit = (c - 48) >>> 0;
		while (digit <= 9 && i < stop) {
			mantissa = (Math.imul(mantissa, 10) + digit) | 0;
			digit = (bytes[++i] - 48) >>> 0;
		}
		let digits = i - first;
		let exponent = 0;
		if (digit === POINT) {
			const fraction = i + 1;
			digit = (bytes[++i] - 48) >>> 0;
			while (digit <= 9 && i < stop) {
				mantissa = (Math.imul(mantissa, 10) + digit) | 0;
				digit = (bytes[++i] - 48) >>> 0;
			}
			exponent = fraction - i;
			digits -= exponent;
		}
		if (digits === 0 || digits > 9) return this.#long(bytes, from, limit);
		c = bytes[i];
		if ((c | 32) === 101) {
			c = bytes[++i];
			const down = c === 45;
			if (down || c === 43) c = bytes[++i];
			const begin = i;
			let power = 0;
			for (digit = (c - 48) >>> 0; digit <= 9 && i < begin + 4; digit = (c - 48) >>> 0) {
				power = 10 * power + digit;
				c = bytes[++i];
			}
			if (i === begin) return this.#long(bytes, from, limit);
			exponent += down ? -power : power;
		}
		if (c > 32 || exponent > 22 || exponent < -22) return this.#long(bytes, from, limit);
		this.end = i;
		const value =
			exponent === 0
				? mantissa
				: exponent > 0
					? mantissa * POWERS_OF_TEN[exponent]
					: mantissa / POWERS_OF_TEN[-exponent];
		return negative ? -value : value;
	}

	/** The same for any number of digits, up to the very limit. */
	#long(bytes: Uint8Array, from: number, limit: number): number {
		let i = from;
		let c = bytes[i];
		const negative = c === 45;
		if (negative || c === 43) c = ++i < limit ? bytes[i] : 32;
		let mantissa = 0;
		let digits = i;
		let digit = c - 48;
		while (digit >= 0 && digit <= 9) {
			mantissa = mantissa * 10 + digit;
			c = ++i < limit ? bytes[i] : 32;
			digit = c - 48;
		}
		digits = i - digits;
		let exponent = 0;
		if (c === 46) {
			c = ++i < limit ? bytes[i] : 32;
			const fraction = i;
			digit = c - 48;
			while (digit >= 0 && digit <= 9) {
				mantissa = mantissa * 10 + digit;
				c = ++i < limit ? bytes[i] : 32;
				digit = c - 48;
			}
			exponent = fraction - i;
			digits -= exponent;
		}
		if ((c === 101 || c === 69) && digits > 0) {
			c = ++i < limit ? bytes[i] : 32;
			const down = c === 45;
			if (down || c === 43) c = ++i < limit ? bytes[i] : 32;
			let power = 0;
			digit = c - 48;
			if (!(digit >= 0 && digit <= 9)) digits = 0;
			while (digit >= 0 && digit <= 9) {
				power = power * 10 + digit;
				c = ++i < limit ? bytes[i] : 32;
				digit = c - 48;
			}
			exponent += down ? -power : power;
		}
		if (c > 32 || digits === 0 || mantissa >= FIRST_INEXACT) return this.#slow(bytes, from, limit);
		this.end = i;
		if (exponent !== 0) {
			if (exponent > 0 && exponent <= 22) mantissa *= POWERS_OF_TEN[exponent];
			else if (exponent < 0 && exponent >= -22) mantissa /= POWERS_OF_TEN[-exponent];
			else return this.#slow(bytes, from, limit);
		}
		return negative ? -mantissa : mantissa;
	}

	#slow(bytes: Uint8Array, from: number, limit: number): number {
		let end = from;
		while (end < limit && bytes[end] > 32) end++;
		this.end = end;
		const text = textOf(bytes, from, end);
		if (DECIMAL.test(text)) return Number(text);
		const plain = text.replace(",", ".").replace(/[dD]/, "e");
		if (plain === text || !DECIMAL.test(plain)) return Number.NaN;
		this.commas++;
		return Number(plain);
	}
}
