/**
 * A hole against the surface: how far along its line a drill may go before a solid of revolution touches the mesh.
 *
 * Places are given by x along the line (0 at the line's origin, growing along its direction) and rho, the distance from it.
 * The solid with its tip at x = s holds every place with x ≥ s − G(w), w = rho − c + k x, where the *cap* G says how far the
 * solid's end reaches in front of its tip at that width: concave, never growing, −∞ beyond the width W. It has no far end:
 * outside the stone there is nothing to touch. Grown evenly by an allowance (c = k = 0) or widening towards the tip
 * (c, k > 0), it is the hole of handbook 8 as aimed and at worst aim.
 *
 * A place of the surface is touched exactly when s < x + G(w). So the tip must stay at the greatest value of F = x + G(w)
 * over the whole surface, and because rho is convex, F is concave on every triangle: its greatest value lies where the
 * solid's end rests on the triangle's plane (closed form) or on an edge (bisection). Nodes of the tree are passed over
 * when no place in their box can beat the best so far. Own derivation.
 */

import { squareTo, type Vec3 } from "../vector.ts";
import type { SurfaceIndex } from "./surfaceIndex.ts";
import { NODE_COUNT, NODE_LINK, NODE_WORDS, STACK_NODES } from "./triangleTree.ts";

/**
 * The end and the widening of one solid, mm. The cap is a cone between two roundings of the same radius, the shape that
 * an even allowance makes of a cone; a flat end is a cone without height, a ball a rounding alone:
 *   G(w) = shift + √(rounding² − w²)                                  w ≤ coneFrom
 *   G(w) = shift + coneTop − w · coneSlope                            w ≤ coneTo
 *   G(w) = shift − shoulder · coneSlope + √(rounding² − (w − shoulder)²)   w ≤ width = shoulder + rounding
 */
export interface SweptSolid {
	readonly rounding: number;
	readonly shoulder: number;
	readonly coneSlope: number;
	readonly coneFrom: number;
	readonly coneTo: number;
	readonly coneTop: number;
	readonly shift: number;
	/** c: how much wider than its cap the solid is at x = 0. */
	readonly wider: number;
	/** k: by how much it widens for each mm towards the tip, at least 0. */
	readonly widening: number;
	/** Added to the value: how much farther out the tip must be set because it may be pushed in by this much. */
	readonly push: number;
}

/** Where the surface limits the tip. */
export interface Touch {
	/** Least x of the tip at which nothing is touched, push included; the value handed in when nothing reaches it. */
	tip: number;
	/** Index into the mesh's triangles; −1 when nothing reaches the value handed in. */
	triangle: number;
	/** Which of the solids touches. */
	solid: number;
	/** The touching place, frame of the mesh. */
	x: number;
	y: number;
	z: number;
}

/** How far the cap reaches in front of the tip at width w (w < 0 counts as 0); −∞ beyond its width. */
export function capReach(solid: SweptSolid, w: number): number {
	if (w > solid.shoulder + solid.rounding) return Number.NEGATIVE_INFINITY;
	if (w <= solid.coneFrom) {
		const u = Math.max(w, 0);
		return solid.shift + Math.sqrt(solid.rounding * solid.rounding - u * u);
	}
	if (w <= solid.coneTo) return solid.shift + solid.coneTop - w * solid.coneSlope;
	const u = w - solid.shoulder;
	return (
		solid.shift - solid.shoulder * solid.coneSlope + Math.sqrt(Math.max(0, solid.rounding * solid.rounding - u * u))
	);
}

/** Width at which a plane that climbs by `slope` mm for each mm of width rests on the cap. */
export function capRest(solid: SweptSolid, slope: number): number {
	const sine = slope / Math.sqrt(1 + slope * slope);
	return (slope > solid.coneSlope ? solid.shoulder : 0) + solid.rounding * sine;
}

/**
 * Least x of the tip over a plane that meets the line at x = 0 and climbs by `slope` = tan(tilt) for each mm of rho.
 * Closed form, push included.
 */
export function tipOnPlane(solid: SweptSolid, slope: number): number {
	const turned = slope / (1 + solid.widening * slope);
	const w = capRest(solid, turned);
	return turned * (w + solid.wider) + capReach(solid, w) + solid.push;
}

export interface HoleProbe {
	/** Sets the line: a place in the frame of the mesh and a unit direction. */
	setLine(origin: Vec3, direction: Vec3): void;
	/** Sets one solid, or two of which the one that asks for more counts. */
	setSolids(first: SweptSolid, second?: SweptSolid): void;
	/**
	 * Greatest tip value over the surface, among those over `floor`. The search ends at the first value over `enough`.
	 * Exact to 1e-8 mm otherwise.
	 */
	touch(floor: number, enough: number, into: Touch): Touch;
	/**
	 * Least distance from the first solid, which must not widen, to the surface with its tip at x = tip; 0 where it touches.
	 * Exact to 1e-8 mm.
	 */
	clearance(tip: number): number;
}

/**
 * Where any touching place will do, boxes near the line and near its start are tried first, a mm aside weighing as much as
 * 50 mm along: such places block the most neighbouring lines.
 */
const NEARER = 0.02;
/** Halvings of an edge: 2^-44 of its length is far under the arithmetic's own error. */
const HALVINGS = 44;

/** A probe over one surface; it holds scratch, so each thread and each nested search needs its own. */
export function createHoleProbe(index: SurfaceIndex): HoleProbe {
	const { positions, triangles } = index.mesh;
	const { bounds, words, order } = index.tree;
	const stack = new Int32Array(STACK_NODES);
	const stackBound = new Float64Array(STACK_NODES);

	let ox = 0;
	let oy = 0;
	let oz = 0;
	// The line's direction and two axes square to it.
	let dx = 0;
	let dy = 0;
	let dz = 1;
	let ex = 1;
	let ey = 0;
	let ez = 0;
	let fx = 0;
	let fy = 1;
	let fz = 0;

	let solids: readonly SweptSolid[] = [];
	const scratch: Touch = { tip: 0, triangle: -1, solid: 0, x: 0, y: 0, z: 0 };

	// The best so far, in the line's own coordinates.
	let best = 0;
	let bestTriangle = -1;
	let bestSolid = 0;
	let bestX = 0;
	let bestY = 0;
	let bestZ = 0;

	const setLine = (origin: Vec3, direction: Vec3): void => {
		[ox, oy, oz] = origin;
		[dx, dy, dz] = direction;
		[ex, ey, ez] = squareTo(direction);
		fx = dy * ez - dz * ey;
		fy = dz * ex - dx * ez;
		fz = dx * ey - dy * ex;
	};

	const setSolids = (first: SweptSolid, second?: SweptSolid): void => {
		solids = second ? [first, second] : [first];
	};

	/** Set by `measureNode`: the range of x in a node's box, and its least distance from the line. */
	let nodeLow = 0;
	let nodeHigh = 0;
	let nodeRho = 0;
	const measureNode = (node: number): void => {
		const at = node * NODE_WORDS;
		const hx = (bounds[at + 3] - bounds[at]) / 2;
		const hy = (bounds[at + 4] - bounds[at + 1]) / 2;
		const hz = (bounds[at + 5] - bounds[at + 2]) / 2;
		const cx = (bounds[at + 3] + bounds[at]) / 2 - ox;
		const cy = (bounds[at + 4] + bounds[at + 1]) / 2 - oy;
		const cz = (bounds[at + 5] + bounds[at + 2]) / 2 - oz;
		const x = cx * dx + cy * dy + cz * dz;
		const half = hx * Math.abs(dx) + hy * Math.abs(dy) + hz * Math.abs(dz);
		const y = Math.abs(cx * ex + cy * ey + cz * ez) - (hx * Math.abs(ex) + hy * Math.abs(ey) + hz * Math.abs(ez));
		const z = Math.abs(cx * fx + cy * fy + cz * fz) - (hx * Math.abs(fx) + hy * Math.abs(fy) + hz * Math.abs(fz));
		nodeLow = x - half;
		nodeHigh = x + half;
		nodeRho = y > 0 ? (z > 0 ? Math.sqrt(y * y + z * z) : y) : Math.max(z, 0);
	};

	/** No place in the node's box gives more than this. */
	const nodeBound = (node: number): number => {
		measureNode(node);
		let most = Number.NEGATIVE_INFINITY;
		for (let s = 0; s < solids.length; s++) {
			const solid = solids[s];
			const reach = capReach(solid, nodeRho + solid.widening * nodeLow - solid.wider);
			if (reach + solid.push > most) most = reach + solid.push;
		}
		return nodeHigh + most;
	};

	const offer = (value: number, triangle: number, solid: number, x: number, y: number, z: number): void => {
		if (value > best) {
			best = value;
			bestTriangle = triangle;
			bestSolid = solid;
			bestX = x;
			bestY = y;
			bestZ = z;
		}
	};

	/** The greatest value on the edge from place a to place b. */
	const tryEdge = (
		solid: SweptSolid,
		s: number,
		t: number,
		ax: number,
		ay: number,
		az: number,
		bx: number,
		by: number,
		bz: number,
	): void => {
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
		const top = Math.max(ax, bx);
		const least = Math.sqrt(ny * ny + nz * nz) + widening * Math.min(ax, bx) - wider;
		if (top + push + capReach(solid, least) <= best) return;
		let low = 0;
		let high = 1;
		for (let i = 0; i < HALVINGS; i++) {
			const m = (low + high) / 2;
			const y = ay + m * uy;
			const z = az + m * uz;
			const rho = Math.sqrt(y * y + z * z);
			const w = rho + widening * (ax + m * ux) - wider;
			const dw = (rho > 0 ? (au + m * uu) / rho : 0) + widening * ux;
			// Sign of dF, times the root in the slope of a rounding.
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
		for (let end = 0; end < 2; end++) {
			const m = end === 0 ? low : high;
			const x = ax + m * ux;
			const y = ay + m * uy;
			const z = az + m * uz;
			const w = Math.sqrt(y * y + z * z) + widening * x - wider;
			offer(x + push + capReach(solid, w), t, s, x, y, z);
		}
	};

	const tryTriangle = (t: number): void => {
		const a = 3 * triangles[3 * t];
		const b = 3 * triangles[3 * t + 1];
		const c = 3 * triangles[3 * t + 2];
		let px = positions[a] - ox;
		let py = positions[a + 1] - oy;
		let pz = positions[a + 2] - oz;
		const ax = px * dx + py * dy + pz * dz;
		const ay = px * ex + py * ey + pz * ez;
		const az = px * fx + py * fy + pz * fz;
		px = positions[b] - ox;
		py = positions[b + 1] - oy;
		pz = positions[b + 2] - oz;
		const bx = px * dx + py * dy + pz * dz;
		const by = px * ex + py * ey + pz * ez;
		const bz = px * fx + py * fy + pz * fz;
		px = positions[c] - ox;
		py = positions[c + 1] - oy;
		pz = positions[c + 2] - oz;
		const cx = px * dx + py * dy + pz * dz;
		const cy = px * ex + py * ey + pz * ez;
		const cz = px * fx + py * fy + pz * fz;
		const top = Math.max(ax, bx, cx);
		const bottom = Math.min(ax, bx, cx);
		// Least distance from the line to the triangle's box across it.
		const ly = Math.max(0, Math.min(ay, by, cy), -Math.max(ay, by, cy));
		const lz = Math.max(0, Math.min(az, bz, cz), -Math.max(az, bz, cz));
		const least = Math.sqrt(ly * ly + lz * lz);
		const det = (by - ay) * (cz - az) - (cy - ay) * (bz - az);
		for (let s = 0; s < solids.length; s++) {
			const solid = solids[s];
			const { widening, wider, push } = solid;
			if (top + push + capReach(solid, least + widening * bottom - wider) <= best) continue;
			offer(ax + push + capReach(solid, Math.sqrt(ay * ay + az * az) + widening * ax - wider), t, s, ax, ay, az);
			offer(bx + push + capReach(solid, Math.sqrt(by * by + bz * bz) + widening * bx - wider), t, s, bx, by, bz);
			offer(cx + push + capReach(solid, Math.sqrt(cy * cy + cz * cz) + widening * cx - wider), t, s, cx, cy, cz);
			// Where the cap rests on the triangle's plane x = x0 + gy y + gz z.
			const gy = ((bx - ax) * (cz - az) - (cx - ax) * (bz - az)) / det;
			const gz = ((cx - ax) * (by - ay) - (bx - ax) * (cy - ay)) / det;
			const slope = Math.sqrt(gy * gy + gz * gz);
			// Steeper planes are as good as parallel to the line; their edges decide.
			if (slope < STEEPEST) {
				const x0 = ax - gy * ay - gz * az;
				const stretch = 1 + widening * slope;
				const rest = capRest(solid, slope / stretch);
				const rho = slope > 0 ? Math.max(0, (rest + wider - widening * x0) / stretch) : 0;
				const y = slope > 0 ? (rho * gy) / slope : 0;
				const z = slope > 0 ? (rho * gz) / slope : 0;
				const x = x0 + slope * rho;
				// Not from rho again: rounding would put a rest on the very edge of the end beyond it.
				const value = x + push + capReach(solid, rho > 0 ? rest : widening * x0 - wider);
				if (value <= best) continue;
				if (isOver(y, z, det, ay, az, by, bz, cy, cz)) {
					offer(value, t, s, x, y, z);
					continue;
				}
			}
			tryEdge(solid, s, t, ax, ay, az, bx, by, bz);
			tryEdge(solid, s, t, bx, by, bz, cx, cy, cz);
			tryEdge(solid, s, t, cx, cy, cz, ax, ay, az);
		}
	};

	const touch = (floor: number, enough: number, into: Touch): Touch => {
		best = floor;
		bestTriangle = -1;
		const any = enough <= floor;
		let depth = 0;
		const whole = nodeBound(0);
		if (whole > best) {
			stack[0] = 0;
			stackBound[0] = whole;
			depth = 1;
		}
		walk: while (depth > 0) {
			depth--;
			if (stackBound[depth] <= best) continue;
			let node = stack[depth];
			let count = words[node * NODE_WORDS + NODE_COUNT];
			while (count === 0) {
				let upper = node + 1;
				let lower = words[node * NODE_WORDS + NODE_LINK];
				let upperBound = nodeBound(upper);
				const upperAside = nodeRho + NEARER * nodeLow;
				let lowerBound = nodeBound(lower);
				const lowerAside = nodeRho + NEARER * nodeLow;
				if (any ? lowerBound > best && (upperBound <= best || lowerAside < upperAside) : lowerBound > upperBound) {
					const n = upper;
					upper = lower;
					lower = n;
					const v = upperBound;
					upperBound = lowerBound;
					lowerBound = v;
				}
				if (upperBound <= best) continue walk;
				if (lowerBound > best) {
					stack[depth] = lower;
					stackBound[depth] = lowerBound;
					depth++;
				}
				node = upper;
				count = words[node * NODE_WORDS + NODE_COUNT];
			}
			const first = words[node * NODE_WORDS + NODE_LINK];
			for (let i = first; i < first + count; i++) tryTriangle(order[i]);
			if (best > enough) break;
		}
		into.tip = best;
		into.triangle = bestTriangle;
		into.solid = bestSolid;
		into.x = ox + bestX * dx + bestY * ex + bestZ * fx;
		into.y = oy + bestX * dy + bestY * ey + bestZ * fy;
		into.z = oz + bestX * dz + bestY * ez + bestZ * fz;
		return into;
	};

	/** The lesser of `bound` and the least distance from an edge to the solid's core. */
	const edgeDistance = (
		core: Core,
		bound: number,
		ax: number,
		ay: number,
		az: number,
		bx: number,
		by: number,
		bz: number,
	): number => {
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
			if (core.aheadX * ux + (rho > 0 ? (core.aside * (au + m * uu)) / rho : 0) < 0) low = m;
			else high = m;
		}
		const y = ay + low * uy;
		const z = az + low * uz;
		return Math.min(bound, offCore(core, ax + low * ux, Math.sqrt(y * y + z * z)));
	};

	/** The lesser of `bound` and the distance from a triangle to the solid's core, which does not meet it. */
	const triangleDistance = (core: Core, t: number, bound: number): number => {
		const a = 3 * triangles[3 * t];
		const b = 3 * triangles[3 * t + 1];
		const c = 3 * triangles[3 * t + 2];
		let px = positions[a] - ox;
		let py = positions[a + 1] - oy;
		let pz = positions[a + 2] - oz;
		const ax = px * dx + py * dy + pz * dz;
		const ay = px * ex + py * ey + pz * ez;
		const az = px * fx + py * fy + pz * fz;
		px = positions[b] - ox;
		py = positions[b + 1] - oy;
		pz = positions[b + 2] - oz;
		const bx = px * dx + py * dy + pz * dz;
		const by = px * ex + py * ey + pz * ez;
		const bz = px * fx + py * fy + pz * fz;
		px = positions[c] - ox;
		py = positions[c + 1] - oy;
		pz = positions[c + 2] - oz;
		const cx = px * dx + py * dy + pz * dz;
		const cy = px * ex + py * ey + pz * ez;
		const cz = px * fx + py * fy + pz * fz;
		const ly = Math.max(0, Math.min(ay, by, cy), -Math.max(ay, by, cy));
		const lz = Math.max(0, Math.min(az, bz, cz), -Math.max(az, bz, cz));
		if (offCore(core, Math.max(ax, bx, cx), Math.sqrt(ly * ly + lz * lz)) >= bound) return bound;
		// The place of the plane x = x0 + gy y + gz z nearest to the core: under its tip or under its shoulder, uphill.
		const det = (by - ay) * (cz - az) - (cy - ay) * (bz - az);
		const gy = ((bx - ax) * (cz - az) - (cx - ax) * (bz - az)) / det;
		const gz = ((cx - ax) * (by - ay) - (bx - ax) * (cy - ay)) / det;
		const slope = Math.sqrt(gy * gy + gz * gz);
		if (slope < STEEPEST) {
			const onShoulder = slope * core.shoulder > core.length;
			const restX = core.tip + (onShoulder ? core.length : 0);
			const restRho = onShoulder ? core.shoulder : 0;
			const fall = (restX - (ax - gy * ay - gz * az) - slope * restRho) / (1 + slope * slope);
			const distance = fall * Math.sqrt(1 + slope * slope);
			if (distance >= bound) return bound;
			const rho = restRho + fall * slope;
			const y = slope > 0 ? (rho * gy) / slope : 0;
			const z = slope > 0 ? (rho * gz) / slope : 0;
			if (fall >= 0 && isOver(y, z, det, ay, az, by, bz, cy, cz)) return distance;
		}
		let least = edgeDistance(core, bound, ax, ay, az, bx, by, bz);
		least = edgeDistance(core, least, bx, by, bz, cx, cy, cz);
		return edgeDistance(core, least, cx, cy, cz, ax, ay, az);
	};

	const clearance = (tip: number): number => {
		const [solid] = solids;
		setSolids(solid);
		if (touch(tip, tip, scratch).triangle >= 0) return 0;
		const core: Core = {
			tip: tip - solid.shift,
			shoulder: solid.shoulder,
			length: solid.shoulder * solid.coneSlope,
			aheadX: 0,
			aside: 0,
		};
		let least = Number.POSITIVE_INFINITY;
		let depth = 1;
		stack[0] = 0;
		stackBound[0] = 0;
		walk: while (depth > 0) {
			depth--;
			if (stackBound[depth] >= least) continue;
			let node = stack[depth];
			let count = words[node * NODE_WORDS + NODE_COUNT];
			while (count === 0) {
				let near = node + 1;
				let far = words[node * NODE_WORDS + NODE_LINK];
				measureNode(near);
				let nearBound = offCore(core, nodeHigh, nodeRho);
				measureNode(far);
				let farBound = offCore(core, nodeHigh, nodeRho);
				if (farBound < nearBound) {
					[near, far] = [far, near];
					[nearBound, farBound] = [farBound, nearBound];
				}
				if (nearBound >= least) continue walk;
				if (farBound < least) {
					stack[depth] = far;
					stackBound[depth] = farBound;
					depth++;
				}
				node = near;
				count = words[node * NODE_WORDS + NODE_COUNT];
			}
			const first = words[node * NODE_WORDS + NODE_LINK];
			for (let i = first; i < first + count; i++) least = triangleDistance(core, order[i], least);
		}
		return Math.max(0, least - solid.rounding);
	};

	return { setLine, setSolids, touch, clearance };
}

/** Whether (y, z) lies in the triangle a, b, c, whose doubled area is `det`, counter-clockwise positive. */
function isOver(
	y: number,
	z: number,
	det: number,
	ay: number,
	az: number,
	by: number,
	bz: number,
	cy: number,
	cz: number,
): boolean {
	const overA = (by - y) * (cz - z) - (cy - y) * (bz - z);
	const overB = (cy - y) * (az - z) - (ay - y) * (cz - z);
	const overC = (ay - y) * (bz - z) - (by - y) * (az - z);
	return det > 0 ? overA >= 0 && overB >= 0 && overC >= 0 : overA <= 0 && overB <= 0 && overC <= 0;
}

/** What is left of a solid when its rounding is taken off: a cone, a flat end or a bare line, without a far end. */
interface Core {
	tip: number;
	shoulder: number;
	/** From tip to shoulder along the line. */
	length: number;
	/** From the nearest place of the core to the place asked about: along the line and away from it. */
	aheadX: number;
	aside: number;
}

/** Distance from place (x, rho) to the core: never less for smaller x or larger rho. */
function offCore(core: Core, x: number, rho: number): number {
	const { shoulder, length } = core;
	const back = x - core.tip;
	const size = shoulder * shoulder + length * length;
	// The nearest place on the end's outline, from the tip on the line to the shoulder.
	const share = size > 0 ? Math.max(0, Math.min(1, (back * length + rho * shoulder) / size)) : 0;
	let ahead = back - share * length;
	let aside = rho - share * shoulder;
	if (back >= length && rho >= shoulder) {
		ahead = 0;
		aside = rho - shoulder;
	} else if (rho <= shoulder && back * shoulder >= rho * length) {
		ahead = 0;
		aside = 0;
	}
	core.aheadX = ahead;
	core.aside = aside;
	return Math.sqrt(ahead * ahead + aside * aside);
}

/** Tangent of the steepest plane on which a solid's end can be said to rest. */
const STEEPEST = 1e7;
