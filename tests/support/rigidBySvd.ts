/** The outside twin of rigid fits: Kabsch 1976 and Umeyama 1991 by the singular values of a general-purpose library. */

import { Matrix, SingularValueDecomposition } from "ml-matrix";
import { add, type Mat3, scale, sub, turn, type Vec3 } from "../../core/vector.ts";

export interface SvdFit {
	readonly rotation: Mat3;
	carry(p: Vec3): Vec3;
}

const det = (m: Matrix): number =>
	m.get(0, 0) * (m.get(1, 1) * m.get(2, 2) - m.get(1, 2) * m.get(2, 1)) -
	m.get(0, 1) * (m.get(1, 0) * m.get(2, 2) - m.get(1, 2) * m.get(2, 0)) +
	m.get(0, 2) * (m.get(1, 0) * m.get(2, 1) - m.get(1, 1) * m.get(2, 0));

const mean = (ps: readonly Vec3[]): Vec3 => scale(ps.reduce(add), 1 / ps.length);

/** Least squares, a proper rotation: from `from` to `to`. */
export function rigidBySvd(from: readonly Vec3[], to: readonly Vec3[]): SvdFit {
	const [cf, ct] = [mean(from), mean(to)];
	const h = Matrix.zeros(3, 3);
	from.forEach((p, i) => {
		const [a, b] = [sub(p, cf), sub(to[i], ct)];
		for (let r = 0; r < 3; r++) for (let c = 0; c < 3; c++) h.set(r, c, h.get(r, c) + a[r] * b[c]);
	});
	const svd = new SingularValueDecomposition(h);
	const [u, v] = [svd.leftSingularVectors, svd.rightSingularVectors];
	const d = Matrix.diag([1, 1, Math.sign(det(u) * det(v))]);
	const rotation = v.mmul(d).mmul(u.transpose()).to1DArray() as unknown as Mat3;
	return { rotation, carry: (p) => add(turn(rotation, sub(p, cf)), ct) };
}
