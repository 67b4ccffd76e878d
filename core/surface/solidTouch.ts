/**
 * Where a swept solid touches one triangle first. The tip value x + G(w) is concave on the triangle, so its greatest value
 * lies where the solid's end rests on the triangle's plane (closed form), or else on an edge (bisection of its slope).
 */

import { type LineFrame, STEEPEST } from "./lineFrame.ts";
import { capReach, capRest, type SweptSolid } from "./sweptSolid.ts";

/** Halvings of an edge: 2^-44 of its length is far under the arithmetic's own error. */
export const HALVINGS = 44;

/** The greatest tip value so far, and where it was found, in the line's own coordinates. */
export class BestTouch {
	tip = 0;
	triangle = -1;
	solid = 0;
	x = 0;
	y = 0;
	z = 0;

	offer(tip: number, triangle: number, solid: number, x: number, y: number, z: number): void {
		if (tip > this.tip) {
			this.tip = tip;
			this.triangle = triangle;
			this.solid = solid;
			this.x = x;
			this.y = y;
			this.z = z;
		}
	}
}

/** Offers the greatest value of a solid on the triangle that the frame has taken. */
export function touchTriangle(frame: LineFrame, solid: SweptSolid, s: number, t: number, best: BestTouch): void {
	const { ax, ay, az, bx, by, bz, cx, cy, cz } = frame;
	const { widening, wider, push } = solid;
	if (frame.top + push + capReach(solid, frame.near + widening * frame.bottom - wider) <= best.tip) return;
	best.offer(ax + push + capReach(solid, Math.sqrt(ay * ay + az * az) + widening * ax - wider), t, s, ax, ay, az);
	best.offer(bx + push + capReach(solid, Math.sqrt(by * by + bz * bz) + widening * bx - wider), t, s, bx, by, bz);
	best.offer(cx + push + capReach(solid, Math.sqrt(cy * cy + cz * cz) + widening * cx - wider), t, s, cx, cy, cz);
	frame.takePlane();
	const { slope, x0 } = frame;
	if (slope < STEEPEST) {
		const stretch = 1 + widening * slope;
		const rest = capRest(solid, slope / stretch);
		const rho = slope > 0 ? Math.max(0, (rest + wider - widening * x0) / stretch) : 0;
		// Not from rho again: rounding would put a rest on the very rim of the end beyond it.
		const value = x0 + slope * rho + push + capReach(solid, rho > 0 ? rest : widening * x0 - wider);
		if (value <= best.tip) return;
		const y = slope > 0 ? (rho * frame.gy) / slope : 0;
		const z = slope > 0 ? (rho * frame.gz) / slope : 0;
		if (frame.isOver(y, z)) {
			best.offer(value, t, s, x0 + slope * rho, y, z);
			return;
		}
	}
	touchEdge(solid, s, t, best, ax, ay, az, bx, by, bz);
	touchEdge(solid, s, t, best, bx, by, bz, cx, cy, cz);
	touchEdge(solid, s, t, best, cx, cy, cz, ax, ay, az);
}

function touchEdge(
	solid: SweptSolid,
	s: number,
	t: number,
	best: BestTouch,
	ax: number,
	ay: number,
	az: number,
	bx: number,
	by: number,
	bz: number,
): void {
	const ux = bx - ax;
	const uy = by - ay;
	const uz = bz - az;
	const uu = uy * uy + uz * uz;
	const au = ay * uy + az * uz;
	const { widening, wider, push, shoulder, rounding, coneSlope, coneFrom, coneTo } = solid;
	const width = shoulder + rounding;
	// Nothing on the edge beats its upper end at its least distance from the line.
	const nearest = uu > 0 ? Math.max(0, Math.min(1, -au / uu)) : 0;
	const ny = ay + nearest * uy;
	const nz = az + nearest * uz;
	const least = Math.sqrt(ny * ny + nz * nz) + widening * Math.min(ax, bx) - wider;
	if (Math.max(ax, bx) + push + capReach(solid, least) <= best.tip) return;
	let low = 0;
	let high = 1;
	for (let i = 0; i < HALVINGS; i++) {
		const m = (low + high) / 2;
		const y = ay + m * uy;
		const z = az + m * uz;
		const rho = Math.sqrt(y * y + z * z);
		const w = rho + widening * (ax + m * ux) - wider;
		const dw = (rho > 0 ? (au + m * uu) / rho : 0) + widening * ux;
		// Sign of the value's slope, times the root in the slope of a rounding.
		let rise: number;
		if (w >= width) rise = -dw;
		else if (w <= 0) rise = ux;
		else if (w > coneFrom && w <= coneTo) rise = ux - coneSlope * dw;
		else {
			const u = w <= coneFrom ? w : w - shoulder;
			rise = ux * Math.sqrt(Math.max(0, rounding * rounding - u * u)) - u * dw;
		}
		if (rise > 0) low = m;
		else high = m;
	}
	// Both ends, because one of them may lie a rounding beyond the solid's width.
	for (let end = 0; end < 2; end++) {
		const m = end === 0 ? low : high;
		const x = ax + m * ux;
		const y = ay + m * uy;
		const z = az + m * uz;
		const w = Math.sqrt(y * y + z * z) + widening * x - wider;
		best.offer(x + push + capReach(solid, w), t, s, x, y, z);
	}
}
