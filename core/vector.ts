/** Small vectors and rotations in exact IEEE arithmetic (+ − × ÷ √ only), for code outside hot loops. */

export type Vec3 = readonly [number, number, number];
/** Row-major 3 × 3 matrix; as a rotation it maps column vectors: (R v)ᵢ = Σⱼ R[3i + j] vⱼ. */
export type Mat3 = readonly [number, number, number, number, number, number, number, number, number];

export const IDENTITY: Mat3 = [1, 0, 0, 0, 1, 0, 0, 0, 1];

export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const sub = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const scale = (a: Vec3, s: number): Vec3 => [a[0] * s, a[1] * s, a[2] * s];
/** a + s·b */
export const along = (a: Vec3, b: Vec3, s: number): Vec3 => [a[0] + s * b[0], a[1] + s * b[1], a[2] + s * b[2]];
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Vec3, b: Vec3): Vec3 => [
	a[1] * b[2] - a[2] * b[1],
	a[2] * b[0] - a[0] * b[2],
	a[0] * b[1] - a[1] * b[0],
];
export const length = (a: Vec3): number => Math.sqrt(dot(a, a));
export const distance = (a: Vec3, b: Vec3): number => length(sub(a, b));
/** The unit vector along a; (0, 0, 0) stays as it is. */
export const unit = (a: Vec3): Vec3 => {
	const l = length(a);
	return l > 0 ? scale(a, 1 / l) : a;
};
/** Any unit vector square to the unit vector n, the same one every time. */
export const squareTo = (n: Vec3): Vec3 => {
	const ax = Math.abs(n[0]);
	const ay = Math.abs(n[1]);
	const az = Math.abs(n[2]);
	const axis: Vec3 = ax <= ay && ax <= az ? [1, 0, 0] : ay <= az ? [0, 1, 0] : [0, 0, 1];
	return unit(cross(axis, n));
};

/** R v */
export const turn = (r: Mat3, v: Vec3): Vec3 => [
	r[0] * v[0] + r[1] * v[1] + r[2] * v[2],
	r[3] * v[0] + r[4] * v[1] + r[5] * v[2],
	r[6] * v[0] + r[7] * v[1] + r[8] * v[2],
];
/** Rᵀ v: the inverse of `turn` when R is a rotation. */
export const turnBack = (r: Mat3, v: Vec3): Vec3 => [
	r[0] * v[0] + r[3] * v[1] + r[6] * v[2],
	r[1] * v[0] + r[4] * v[1] + r[7] * v[2],
	r[2] * v[0] + r[5] * v[1] + r[8] * v[2],
];
/** A B */
export const multiply = (a: Mat3, b: Mat3): Mat3 => {
	const m = new Array<number>(9);
	for (let i = 0; i < 3; i++)
		for (let j = 0; j < 3; j++) m[3 * i + j] = a[3 * i] * b[j] + a[3 * i + 1] * b[3 + j] + a[3 * i + 2] * b[6 + j];
	return m as unknown as Mat3;
};
export const transpose = (r: Mat3): Mat3 => [r[0], r[3], r[6], r[1], r[4], r[7], r[2], r[5], r[8]];

/** The rotation of a quaternion (x, y, z, w), which need not be of unit length. */
export const rotationFromQuaternion = (q: readonly [number, number, number, number]): Mat3 => {
	const [x, y, z, w] = q;
	const s = 2 / (x * x + y * y + z * z + w * w);
	return [
		1 - s * (y * y + z * z),
		s * (x * y - z * w),
		s * (x * z + y * w),
		s * (x * y + z * w),
		1 - s * (x * x + z * z),
		s * (y * z - x * w),
		s * (x * z - y * w),
		s * (y * z + x * w),
		1 - s * (x * x + y * y),
	];
};

/** A rotation and a translation that map model frame to stone frame: x ↦ R x + t. Mirroring belongs to intake, never here. */
export interface Placement {
	readonly rotation: Mat3;
	/** mm */
	readonly translation: Vec3;
}
export const place = (p: Placement, v: Vec3): Vec3 => add(turn(p.rotation, v), p.translation);
export const placeBack = (p: Placement, v: Vec3): Vec3 => turnBack(p.rotation, sub(v, p.translation));
