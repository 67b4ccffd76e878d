/** The turned base of a newel finial. */
import { ellipsoid, smoothMax, smoothMin } from "./field.ts";

/** A ring about the axis; r is the distance from the axis. */
const ring = (r: number, z: number, radius: number, height: number, tube: number): number => {
	const dr = (r - radius) / tube;
	const dz = (z - height) / tube;
	return (Math.sqrt(dr * dr + dz * dz) - 1) * tube;
};
/** A turned disc with rounded edges between two heights. */
const disc = (r: number, z: number, radius: number, low: number, high: number, round: number): number => {
	const qr = r - radius + round;
	const qz = Math.abs(z - (low + high) / 2) - (high - low) / 2 + round;
	const or = Math.max(qr, 0);
	const oz = Math.max(qz, 0);
	return Math.sqrt(or * or + oz * oz) + Math.min(Math.max(qr, qz), 0) - round;
};
/** Plinth, torus, fillet, cove, fillet and cushion, turned about the z axis; the foot is flat at z = 0. */
export const turnedBase = (x: number, y: number, z: number): number => {
	const r = Math.sqrt(x * x + y * y);
	let d = disc(r, z, 76, -30, 14, 2.5);
	d = smoothMin(d, ring(r, z, 61, 25, 11.5), 4);
	d = smoothMin(d, disc(r, z, 63, 33, 38.5, 1.2), 2);
	d = Math.min(d, disc(r, z, 57, 36, 66, 1));
	// The cove between two fillets.
	d = smoothMax(d, -ring(r, z, 60, 49.5, 10.5), 1);
	d = Math.min(d, disc(r, z, 58, 60.5, 66, 1.2));
	// The cushion on which the owl stands.
	d = smoothMin(d, ellipsoid(r, 0, z - 75, 58.5, 58.5, 19), 5);
	return Math.max(d, -z);
};
