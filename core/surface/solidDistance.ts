/**
 * How far a triangle lies from a swept solid that does not widen. What is left of such a solid when its rounding is taken
 * off is its *core*: a cone, a flat end or a bare line, without a far end. The distance to it is convex, so on a triangle it
 * is least under the core's tip or shoulder, or else on an edge.
 */

import { type LineFrame, STEEPEST } from "./lineFrame.ts";
import { HALVINGS } from "./solidTouch.ts";
import type { SweptSolid } from "./sweptSolid.ts";

export interface Core {
	/** x of its tip, mm along the line. */
	readonly tip: number;
	readonly shoulder: number;
	/** From tip to shoulder along the line. */
	readonly length: number;
	/** Set by `offCore`: from the nearest place of the core to the place asked about, along the line and away from it. */
	ahead: number;
	aside: number;
}

export const coreOf = (solid: SweptSolid, tip: number): Core => ({
	tip: tip - solid.shift,
	shoulder: solid.shoulder,
	length: solid.shoulder * solid.coneSlope,
	ahead: 0,
	aside: 0,
});

/** Distance from the place (x, rho) to the core: never less for smaller x or larger rho. */
export function offCore(core: Core, x: number, rho: number): number {
	const { shoulder, length } = core;
	const back = x - core.tip;
	if (back >= length && rho >= shoulder) {
		core.ahead = 0;
		core.aside = rho - shoulder;
		return core.aside;
	}
	if (back >= 0 && rho <= shoulder && back * shoulder >= rho * length) {
		core.ahead = 0;
		core.aside = 0;
		return 0;
	}
	// The nearest place on the end's outline, from the tip on the line to the shoulder.
	const size = shoulder * shoulder + length * length;
	const share = size > 0 ? Math.max(0, Math.min(1, (back * length + rho * shoulder) / size)) : 0;
	const ahead = back - share * length;
	const aside = rho - share * shoulder;
	core.ahead = ahead;
	core.aside = aside;
	return Math.sqrt(ahead * ahead + aside * aside);
}

/** The lesser of `bound` and the distance to the core, which it does not meet, of the triangle that the frame has taken. */
export function triangleOffCore(frame: LineFrame, core: Core, bound: number): number {
	const { ax, ay, az, bx, by, bz, cx, cy, cz } = frame;
	if (offCore(core, frame.top, frame.near) >= bound) return bound;
	frame.takePlane();
	const { slope } = frame;
	if (slope < STEEPEST) {
		const onShoulder = slope * core.shoulder > core.length;
		const restX = core.tip + (onShoulder ? core.length : 0);
		const restRho = onShoulder ? core.shoulder : 0;
		const square = 1 + slope * slope;
		const fall = (restX - frame.x0 - slope * restRho) / square;
		const distance = fall * Math.sqrt(square);
		if (distance >= bound) return bound;
		const rho = restRho + fall * slope;
		const y = slope > 0 ? (rho * frame.gy) / slope : 0;
		const z = slope > 0 ? (rho * frame.gz) / slope : 0;
		if (fall >= 0 && frame.isOver(y, z)) return distance;
	}
	let least = edgeOffCore(core, bound, ax, ay, az, bx, by, bz);
	least = edgeOffCore(core, least, bx, by, bz, cx, cy, cz);
	return edgeOffCore(core, least, cx, cy, cz, ax, ay, az);
}

function edgeOffCore(
	core: Core,
	bound: number,
	ax: number,
	ay: number,
	az: number,
	bx: number,
	by: number,
	bz: number,
): number {
	const ux = bx - ax;
	const uy = by - ay;
	const uz = bz - az;
	const uu = uy * uy + uz * uz;
	const au = ay * uy + az * uz;
	const nearest = uu > 0 ? Math.max(0, Math.min(1, -au / uu)) : 0;
	const ny = ay + nearest * uy;
	const nz = az + nearest * uz;
	if (offCore(core, Math.max(ax, bx), Math.sqrt(ny * ny + nz * nz)) >= bound) return bound;
	let low = 0;
	let high = 1;
	for (let i = 0; i < HALVINGS; i++) {
		const m = (low + high) / 2;
		const y = ay + m * uy;
		const z = az + m * uz;
		const rho = Math.sqrt(y * y + z * z);
		offCore(core, ax + m * ux, rho);
		if (core.ahead * ux + (rho > 0 ? (core.aside * (au + m * uu)) / rho : 0) < 0) low = m;
		else high = m;
	}
	const y = ay + low * uy;
	const z = az + low * uz;
	return Math.min(bound, offCore(core, ax + low * ux, Math.sqrt(y * y + z * z)));
}
