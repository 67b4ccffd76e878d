/**
 * Order of work and numbers (handbook 7): by lie, then round, then high points before hollows, then from the top down
 * region by region, so that the arm moves little.
 */

import { along, distance, dot, type Vec3 } from "../vector.ts";
import type { PointKind } from "./ground.ts";
import type { MiddlePlane, Side } from "./side.ts";

export interface OrderedPoint {
	/** Model frame, mm. */
	readonly position: Vec3;
	readonly round: number;
	/** null: an undercut, which comes after everything that is drilled. */
	readonly lie: number | null;
	readonly kind: PointKind;
	readonly side: Side;
}

/**
 * Which side is worked when, within a lie and a round. The middle goes with the side that comes first; pairs are told by
 * the mirror image in the plane.
 */
export type OrderOptions =
	| { readonly sides?: "together" | "left first" | "right first" }
	| { readonly sides: "in pairs"; readonly plane: MiddlePlane };

/** A band worked from the top down is this many mean spacings high: the arm sweeps it before it is lowered. */
const BAND_SPACINGS = 2;
/** Rounds of improvement of the way through a region (2-opt); few are ever needed. */
const MOST_SWEEPS = 30;

/** Indices of `points` in order of work. Ties go by index, so the same points give the same order everywhere. */
export function orderPoints(points: readonly OrderedPoint[], upAxis: Vec3, options: OrderOptions = {}): number[] {
	const groups = new Map<string, number[]>();
	points.forEach((point, i) => {
		const key = groupKey(point, options);
		const group = groups.get(key);
		if (group) group.push(i);
		else groups.set(key, [i]);
	});
	const order: number[] = [];
	for (const key of [...groups.keys()].sort()) {
		const group = groups.get(key) as number[];
		const way = wayThrough(points, group, upAxis, order.length > 0 ? points[order[order.length - 1]].position : null);
		if (options.sides === "in pairs") order.push(...paired(points, way, options.plane));
		else order.push(...way);
	}
	return order;
}

/** Length of the way from point to point in that order, mm: how far the arm has to move. */
export function travel(points: readonly { readonly position: Vec3 }[], order: readonly number[]): number {
	let sum = 0;
	for (let i = 1; i < order.length; i++) sum += distance(points[order[i - 1]].position, points[order[i]].position);
	return sum;
}

/**
 * Number of every point (1 and up): its place in the order of work. `keep[i]` is the number that point i keeps because it has
 * been drilled, or null. Such numbers never change; once there are any, the others count on from the highest of them.
 */
export function numberPoints(order: readonly number[], keep: readonly (number | null)[] = []): number[] {
	const numbers = new Array<number>(order.length).fill(0);
	const taken = new Set<number>();
	for (const i of order) {
		const kept = keep[i] ?? null;
		if (kept === null) continue;
		numbers[i] = kept;
		taken.add(kept);
	}
	// Once anything is drilled the sheets are in use: a number below that was given up is not given to another point.
	let next = taken.size === 0 ? 1 : Math.max(...taken) + 1;
	for (const i of order) if (numbers[i] === 0) numbers[i] = next++;
	return numbers;
}

/** Sorts groups: lie, round, high points first, side. */
function groupKey(point: OrderedPoint, { sides }: OrderOptions): string {
	const high = point.kind === "high point" || point.kind === "picked" ? 0 : 1;
	const last = sides === "left first" ? "right" : sides === "right first" ? "left" : null;
	const side = last !== null && point.side === last ? 1 : 0;
	const three = (n: number): string => String(n).padStart(3, "0");
	return `${three(point.lie ?? 999)} ${three(point.round)} ${high} ${side}`;
}

/** Top down in bands, through each band by the shortest way found from where the arm stands. */
function wayThrough(points: readonly OrderedPoint[], group: readonly number[], up: Vec3, start: Vec3 | null): number[] {
	const height = new Map(group.map((i) => [i, dot(points[i].position, up)]));
	const heightOf = (i: number): number => height.get(i) as number;
	const falling = [...group].sort((a, b) => heightOf(b) - heightOf(a) || a - b);
	const bandHeight = BAND_SPACINGS * meanSpacing(points, group);
	const way: number[] = [];
	let at = start;
	for (let i = 0; i < falling.length; ) {
		const floor = heightOf(falling[i]) - bandHeight;
		let end = i;
		while (end < falling.length && heightOf(falling[end]) >= floor) end++;
		const band = shortWay(points, falling.slice(i, end), at);
		way.push(...band);
		at = points[band[band.length - 1]].position;
		i = end;
	}
	return way;
}

/** Mean distance to the nearest other point of the group, mm; 0 for a single one. */
function meanSpacing(points: readonly OrderedPoint[], group: readonly number[]): number {
	if (group.length < 2) return 0;
	let sum = 0;
	for (const i of group) {
		let nearest = Number.POSITIVE_INFINITY;
		for (const k of group) {
			if (k !== i) nearest = Math.min(nearest, distance(points[i].position, points[k].position));
		}
		sum += nearest;
	}
	return sum / group.length;
}

/** An open way through `band` from `start` (free when null): nearest next, then pieces turned round while that shortens it. */
function shortWay(points: readonly OrderedPoint[], band: readonly number[], start: Vec3 | null): number[] {
	const left = [...band];
	const way: number[] = [];
	let at = start ?? points[left[0]].position;
	while (left.length > 0) {
		let best = 0;
		let nearest = Number.POSITIVE_INFINITY;
		for (let k = 0; k < left.length; k++) {
			const d = distance(at, points[left[k]].position);
			if (d < nearest) {
				nearest = d;
				best = k;
			}
		}
		way.push(left[best]);
		at = points[left[best]].position;
		left.splice(best, 1);
	}
	const gap = (i: number, k: number): number => {
		if (k >= way.length) return 0;
		if (i < 0) return start === null ? 0 : distance(start, points[way[k]].position);
		return distance(points[way[i]].position, points[way[k]].position);
	};
	for (let sweep = 0; sweep < MOST_SWEEPS; sweep++) {
		let better = false;
		for (let i = 0; i < way.length - 1; i++) {
			for (let k = i + 1; k < way.length; k++) {
				const now = gap(i - 1, i) + gap(k, k + 1);
				const turned = gap(i - 1, k) + gap(i, k + 1);
				if (turned < now - 1e-9) {
					for (let a = i, b = k; a < b; a++, b--) {
						const swap = way[a];
						way[a] = way[b];
						way[b] = swap;
					}
					better = true;
				}
			}
		}
		if (!better) break;
	}
	return way;
}

/** Each point of one side is followed by the free point of the other side nearest to its mirror image. */
function paired(points: readonly OrderedPoint[], way: readonly number[], plane: MiddlePlane): number[] {
	const free = new Set(way);
	const order: number[] = [];
	for (const i of way) {
		if (!free.delete(i)) continue;
		order.push(i);
		const { position, side } = points[i];
		if (side === "middle") continue;
		const other: Side = side === "left" ? "right" : "left";
		const image = along(position, plane.normal, 2 * (plane.offset - dot(plane.normal, position)));
		let best = -1;
		let nearest = Number.POSITIVE_INFINITY;
		for (const k of way) {
			if (!free.has(k) || points[k].side !== other) continue;
			const d = distance(image, points[k].position);
			if (d < nearest) {
				nearest = d;
				best = k;
			}
		}
		if (best < 0) continue;
		free.delete(best);
		order.push(best);
	}
	return order;
}
