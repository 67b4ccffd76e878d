/** Which turns of the figure are allowed, and small sums with quaternions (x, y, z, w). */
import { cosDegrees, sinDegrees } from "../exactAngle.ts";
import { Refusal } from "../refusal.ts";
import { cross, dot, length, type Mat3, rotationFromQuaternion, squareTo, turn, unit, type Vec3 } from "../vector.ts";

export type Quaternion = readonly [number, number, number, number];

/** A direction of the model that must lie within an angle of a direction of the stone: a stance wished for, a natural bed. */
export interface DirectionLimit {
	readonly model: Vec3;
	readonly stone: Vec3;
	readonly degrees: number;
	/** True for a direction without a sense, as the normal of a natural bed. */
	readonly eitherWay?: boolean;
}

export type Turning =
	| { readonly kind: "free"; readonly limits?: readonly DirectionLimit[] }
	/** Only about the vertical (z of model and stone). */
	| { readonly kind: "upright"; readonly limits?: readonly DirectionLimit[] }
	| { readonly kind: "fixed"; readonly rotation: Mat3 };

/** First a, after it b, as one quaternion of unit length. (Not called `then`: a module with that export never finishes loading.) */
export function turnedOn(a: Quaternion, b: Quaternion): Quaternion {
	const x = b[3] * a[0] + b[0] * a[3] + b[1] * a[2] - b[2] * a[1];
	const y = b[3] * a[1] - b[0] * a[2] + b[1] * a[3] + b[2] * a[0];
	const z = b[3] * a[2] + b[0] * a[1] - b[1] * a[0] + b[2] * a[3];
	const w = b[3] * a[3] - b[0] * a[0] - b[1] * a[1] - b[2] * a[2];
	const s = 1 / Math.sqrt(x * x + y * y + z * z + w * w);
	return [x * s, y * s, z * s, w * s];
}

/** The quaternion of a rotation; w is not negative. */
export function quaternionOf(r: Mat3): Quaternion {
	// Four times the square of each part; the greatest is divided by (Shepperd 1978).
	const squares = [1 + r[0] - r[4] - r[8], 1 - r[0] + r[4] - r[8], 1 - r[0] - r[4] + r[8], 1 + r[0] + r[4] + r[8]];
	let most = 3;
	for (let k = 0; k < 3; k++) if (squares[k] > squares[most]) most = k;
	const [x, y, z, w] = [
		[squares[0], r[1] + r[3], r[2] + r[6], r[7] - r[5]],
		[r[1] + r[3], squares[1], r[5] + r[7], r[2] - r[6]],
		[r[2] + r[6], r[5] + r[7], squares[2], r[3] - r[1]],
		[r[7] - r[5], r[2] - r[6], r[3] - r[1], squares[3]],
	][most];
	const s = (w < 0 ? -1 : 1) / Math.sqrt(x * x + y * y + z * z + w * w);
	return [x * s, y * s, z * s, w * s];
}

/** A limit made ready for the search: unit directions, cosine and sine of the angle. */
export interface ReadyLimit {
	readonly model: Vec3;
	readonly stone: Vec3;
	readonly cos: number;
	readonly sin: number;
	readonly eitherWay: boolean;
}

export function readyLimits(turning: Turning): ReadyLimit[] {
	const limits = turning.kind === "fixed" ? [] : (turning.limits ?? []);
	return limits.map(({ model, stone, degrees, eitherWay = false }) => {
		if (!(length(model) > 0 && length(stone) > 0)) throw new Refusal("stone.limitDirection", {});
		if (!(degrees >= 0 && degrees <= 180)) throw new Refusal("stone.limitAngle", { found: degrees });
		const whole = degrees === 180 || (eitherWay && degrees >= 90);
		return {
			model: unit(model),
			stone: unit(stone),
			cos: whole ? -1 : cosDegrees(degrees),
			sin: whole ? 0 : sinDegrees(degrees),
			eitherWay,
		};
	});
}

/** A limit kept to this in its cosine counts as kept. */
const KEPT = 1e-12;

/** Cosine of the angle between where the model's direction points and the stone's. */
export function cosineAt(limit: ReadyLimit, rotation: ArrayLike<number>): number {
	const { model: m, stone: s } = limit;
	const c =
		s[0] * (rotation[0] * m[0] + rotation[1] * m[1] + rotation[2] * m[2]) +
		s[1] * (rotation[3] * m[0] + rotation[4] * m[1] + rotation[5] * m[2]) +
		s[2] * (rotation[6] * m[0] + rotation[7] * m[1] + rotation[8] * m[2]);
	return limit.eitherWay ? Math.abs(c) : c;
}

export function keepsLimits(limits: readonly ReadyLimit[], rotation: ArrayLike<number>): boolean {
	for (const limit of limits) if (cosineAt(limit, rotation) < limit.cos - KEPT) return false;
	return true;
}

/** Whether some turn within angle r of this one may keep the limit. */
export function mayKeep(limit: ReadyLimit, rotation: ArrayLike<number>, cosR: number, sinR: number): boolean {
	// Out of reach when θ > α + r, that is cos θ < cos(α + r) as long as α + r stays under 180°.
	const sinSum = limit.sin * cosR + limit.cos * sinR;
	if (sinSum <= 0) return true;
	return cosineAt(limit, rotation) >= limit.cos * cosR - limit.sin * sinR - KEPT;
}

/** The smallest turn on top of `quaternion` after which the limit is kept; the same quaternion when it is kept already. */
export function broughtWithin(limit: ReadyLimit, quaternion: Quaternion): Quaternion {
	const rotation = rotationFromQuaternion(quaternion);
	const cos = cosineAt(limit, rotation);
	if (cos >= limit.cos) return quaternion;
	const m = turn(rotation, limit.model);
	const s =
		limit.eitherWay && dot(m, limit.stone) < 0
			? ([-limit.stone[0], -limit.stone[1], -limit.stone[2]] as const)
			: limit.stone;
	const axis = cross(m, s);
	const sin = length(axis);
	const about = sin > 1e-9 ? unit(axis) : squareTo(m);
	// By θ − α, whose sine and cosine are known; tan of half an angle = sin ÷ (1 + cos).
	const tanHalf = (sin * limit.cos - cos * limit.sin) / (1 + cos * limit.cos + sin * limit.sin);
	return turnedOn(quaternion, [about[0] * tanHalf, about[1] * tanHalf, about[2] * tanHalf, 1]);
}
