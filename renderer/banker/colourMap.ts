/**
 * The one map from values to colours: cividis, which reads the same with and without red–green colour blindness and in grey
 * (Nuñez, Anderton and Renslow 2018), as the polynomials of degree five that are widely fitted to its published table.
 */

const RED = [-4.54, -35.34, 2381.73, -6402.7, 7024.72, -2710.57] as const;
const GREEN = [32.49, 170.73, 52.82, -131.46, 176.58, -67.37] as const;
const BLUE = [81.24, 442.36, -2482.43, 6167.24, -6614.94, 2475.67] as const;

const channel = (c: readonly number[], t: number): number => {
	const value = c[0] + t * (c[1] + t * (c[2] + t * (c[3] + t * (c[4] + t * c[5]))));
	return Math.max(0, Math.min(255, Math.round(value)));
};

/** Red, green, blue 0–255 of a share in [0, 1]; shares outside count as the nearer end. */
export function cividis(share: number): readonly [number, number, number] {
	const t = Math.max(0, Math.min(1, share));
	return [channel(RED, t), channel(GREEN, t), channel(BLUE, t)];
}
