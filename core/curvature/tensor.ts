/** Principal curvatures and directions out of a curvature tensor in space. */

/** Of one tensor: curvatures in 1/mm (k1 ≥ k2) and the unit direction of k1, (0, 0, 0) where the two are equal. */
export interface Principal {
	k1: number;
	k2: number;
	x: number;
	y: number;
	z: number;
}

export const newPrincipal = (): Principal => ({ k1: 0, k2: 0, x: 0, y: 0, z: 0 });

/**
 * Reads the symmetric tensor (xx, xy, xz, yy, yz, zz) in the plane square to the unit normal n, into `target`.
 *
 * Tensors that were averaged in space, not carried along the surface, tilt out of the tangent plane: at distance d along
 * a direction of curvature k a share (k d)² is lost. Over a Gaussian of standard deviation `width` mm that is
 * (k width)², which is given back here (held to a doubling).
 */
export function readTensor(
	xx: number,
	xy: number,
	xz: number,
	yy: number,
	yz: number,
	zz: number,
	nx: number,
	ny: number,
	nz: number,
	width: number,
	target: Principal,
): void {
	target.k1 = 0;
	target.k2 = 0;
	target.x = 0;
	target.y = 0;
	target.z = 0;
	// e: square to n and to the axis least along it; g = n × e.
	const ax = Math.abs(nx);
	const ay = Math.abs(ny);
	const az = Math.abs(nz);
	let ex = 0;
	let ey = 0;
	let ez = 0;
	if (ax <= ay && ax <= az) {
		ey = -nz;
		ez = ny;
	} else if (ay <= az) {
		ex = nz;
		ez = -nx;
	} else {
		ex = -ny;
		ey = nx;
	}
	const e = Math.sqrt(ex * ex + ey * ey + ez * ez);
	if (!(e > 0)) return;
	ex /= e;
	ey /= e;
	ez /= e;
	const gx = ny * ez - nz * ey;
	const gy = nz * ex - nx * ez;
	const gz = nx * ey - ny * ex;
	const tex = xx * ex + xy * ey + xz * ez;
	const tey = xy * ex + yy * ey + yz * ez;
	const tez = xz * ex + yz * ey + zz * ez;
	const ee = ex * tex + ey * tey + ez * tez;
	const eg = gx * tex + gy * tey + gz * tez;
	const gg =
		gx * (xx * gx + xy * gy + xz * gz) + gy * (xy * gx + yy * gy + yz * gz) + gz * (xz * gx + yz * gy + zz * gz);
	const mean = 0.5 * (ee + gg);
	const half = 0.5 * (ee - gg);
	const spread = Math.sqrt(half * half + eg * eg);
	target.k1 = untilted(mean + spread, width);
	target.k2 = untilted(mean - spread, width);
	if (!(spread > 0)) return;
	// Of the two forms of the eigenvector the longer one is the accurate one.
	const s = half >= 0 ? half + spread : eg;
	const r = half >= 0 ? eg : spread - half;
	const length = Math.sqrt(s * s + r * r);
	target.x = (s * ex + r * gx) / length;
	target.y = (s * ey + r * gy) / length;
	target.z = (s * ez + r * gz) / length;
}

const untilted = (k: number, width: number): number => k * (1 + Math.min(1, k * k * width * width));
