/** Holes that would run into each other (handbook 8). */

import type { Job } from "../job.ts";
import { along, dot, sub, type Vec3 } from "../vector.ts";
import type { Hole, OtherHoles } from "./drillLine.ts";

/** Stone that must stay between two holes, mm (common practice, no source). */
export const LEAST_WEB = 1;

/** Two holes, by their places in the list, a < b, and the stone between them; negative where they run into each other. */
export interface Crossing {
	readonly a: number;
	readonly b: number;
	readonly web: number;
}

/** Least stone between two holes, mm, both taken as round-ended; negative where they overlap. */
export const webBetween = (a: Hole, b: Hole): number =>
	distanceOfSegments(a.tip, a.entry, b.tip, b.entry) - a.radius - b.radius;

export const runsInto = (hole: Hole, { holes, web }: OtherHoles): boolean =>
	holes.some((other) => {
		const asked = webAsked(hole, other, web);
		return mayMeet(hole, other, asked) && webBetween(hole, other) < asked;
	});

/** Stone that must stay between two holes: `web`, and more where they come into a thin part from its two sides. */
function webAsked(a: Hole, b: Hole, web: number): number {
	const behind = Math.max(a.behind ?? 0, b.behind ?? 0);
	if (behind <= web) return web;
	return dot(sub(a.entry, a.tip), sub(b.entry, b.tip)) < 0 ? behind : web;
}

/** False where the bounds of two holes are farther apart than the web along one axis: most pairs, without a square root. */
function mayMeet(a: Hole, b: Hole, web: number): boolean {
	const air = a.radius + b.radius + web;
	for (let k = 0; k < 3; k++) {
		if (Math.min(a.tip[k], a.entry[k]) - Math.max(b.tip[k], b.entry[k]) > air) return false;
		if (Math.min(b.tip[k], b.entry[k]) - Math.max(a.tip[k], a.entry[k]) > air) return false;
	}
	return true;
}

/** All pairs with less stone between them than `webAsked` from `web` mm, ordered by a, then b. */
export function* crossingHoles(holes: readonly Hole[], web = LEAST_WEB): Job<Crossing[]> {
	const air = (h: Hole): number => h.radius + Math.max(web, h.behind ?? 0);
	const least = (h: Hole): number => Math.min(h.tip[0], h.entry[0]) - air(h);
	const most = (h: Hole): number => Math.max(h.tip[0], h.entry[0]) + air(h);
	const from = holes.map(least);
	const to = holes.map(most);
	// Swept along x: a hole is held only against those that begin before it ends.
	const order = holes.map((_, i) => i).sort((i, j) => from[i] - from[j] || i - j);
	const found: Crossing[] = [];
	for (let p = 0; p < order.length; p++) {
		const i = order[p];
		for (let q = p + 1; q < order.length && from[order[q]] < to[i]; q++) {
			const j = order[q];
			const [a, b] = [Math.min(i, j), Math.max(i, j)];
			const between = webBetween(holes[a], holes[b]);
			if (between < webAsked(holes[a], holes[b], web)) found.push({ a, b, web: between });
		}
		if (p % 64 === 63) yield { stage: "holding the holes against each other", share: p / order.length };
	}
	return found.sort((x, y) => x.a - y.a || x.b - y.b);
}

const clamp = (x: number): number => Math.max(0, Math.min(1, x));

/** Ericson, "Real-Time Collision Detection" (2005), 5.1.9. Either segment may be a point. */
export function distanceOfSegments(p: Vec3, pEnd: Vec3, q: Vec3, qEnd: Vec3): number {
	const d = sub(pEnd, p);
	const e = sub(qEnd, q);
	const r = sub(p, q);
	const dd = dot(d, d);
	const ee = dot(e, e);
	const er = dot(e, r);
	let s = 0;
	let t = 0;
	if (dd > 0) {
		const dr = dot(d, r);
		if (ee > 0) {
			const de = dot(d, e);
			const apart = dd * ee - de * de;
			s = apart > 0 ? clamp((de * er - dr * ee) / apart) : 0;
			t = (de * s + er) / ee;
			if (t < 0) {
				t = 0;
				s = clamp(-dr / dd);
			} else if (t > 1) {
				t = 1;
				s = clamp((de - dr) / dd);
			}
		} else s = clamp(-dr / dd);
	} else if (ee > 0) t = clamp(er / ee);
	const gap = sub(along(p, d, s), along(q, e, t));
	return Math.sqrt(dot(gap, gap));
}
