/**
 * The rigid motion that carries one set of places onto another with the least sum of squares.
 *
 * The problem of Kabsch (1976) and Umeyama (1991), solved by the unit quaternion of Horn (Closed-form solution of absolute
 * orientation using unit quaternions, J. Opt. Soc. Am. A 4, 1987): the eigenvector of the greatest eigenvalue of a
 * symmetric 4 × 4 matrix. The same answer as by singular values, and a proper rotation even where all places lie in one
 * plane, as three datums always do.
 */

import { symmetricEigen } from "../symmetric.ts";
import {
	add,
	distance,
	type Placement,
	place,
	rotationFromQuaternion,
	scale,
	sub,
	turn,
	type Vec3,
} from "../vector.ts";

export interface RigidFit {
	/** Carries `from` onto `to`. */
	readonly placement: Placement;
	/** What is left between each carried place and its fellow, in the unit of the coordinates. */
	readonly left: readonly number[];
}

/** At least three places not in one line, as many in `from` as in `to`. */
export function rigidFit(from: readonly Vec3[], to: readonly Vec3[]): RigidFit {
	const mean = (ps: readonly Vec3[]): Vec3 => scale(ps.reduce(add), 1 / ps.length);
	const [a, b] = [mean(from), mean(to)];
	// s[r][c] = Σ (from − a)ᵣ (to − b)꜀
	const s = [
		[0, 0, 0],
		[0, 0, 0],
		[0, 0, 0],
	];
	from.forEach((p, i) => {
		const [u, v] = [sub(p, a), sub(to[i], b)];
		for (let r = 0; r < 3; r++) for (let c = 0; c < 3; c++) s[r][c] += u[r] * v[c];
	});
	const [[xx, xy, xz], [yx, yy, yz], [zx, zy, zz]] = s;
	// Rows for w, x, y, z of the quaternion (Horn 1987, section 4A).
	const { vectors } = symmetricEigen([
		[xx + yy + zz, yz - zy, zx - xz, xy - yx],
		[yz - zy, xx - yy - zz, xy + yx, zx + xz],
		[zx - xz, xy + yx, yy - xx - zz, yz + zy],
		[xy - yx, zx + xz, yz + zy, zz - xx - yy],
	]);
	const [w, x, y, z] = vectors[0];
	const rotation = rotationFromQuaternion([x, y, z, w]);
	const placement: Placement = { rotation, translation: sub(b, turn(rotation, a)) };
	return { placement, left: from.map((p, i) => distance(place(placement, p), to[i])) };
}
