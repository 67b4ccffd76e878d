/** How far the arm moves from point to point, beside two other orders of the same points (handbook 7). */

import { seededRandom } from "../random.ts";
import { distance, type Vec3 } from "../vector.ts";
import { travel } from "./order.ts";

/** mm of stone, straight from target to target. */
export interface ArmTravel {
	/** In the order of work. */
	readonly order: number;
	/** Always on to the nearest point left, from the same first one, whatever lie or round it belongs to. */
	readonly nearest: number;
	/** By lot (seeded). */
	readonly random: number;
}

/** `places` in order of work, model frame. */
export function armTravel(places: readonly Vec3[]): ArmTravel {
	const points = places.map((position) => ({ position }));
	const lot = places.map((_, i) => i);
	const random = seededRandom(7);
	for (let i = lot.length - 1; i > 0; i--) {
		const k = Math.floor(random.next() * (i + 1));
		const swap = lot[i];
		lot[i] = lot[k];
		lot[k] = swap;
	}
	return {
		order: travel(
			points,
			places.map((_, i) => i),
		),
		nearest: travel(points, nearestWalk(places)),
		random: travel(points, lot),
	};
}

/** Ties by index. */
function nearestWalk(places: readonly Vec3[]): number[] {
	const left = places.map((_, i) => i);
	const walk = left.splice(0, 1);
	while (left.length > 0) {
		const from = places[walk[walk.length - 1]];
		let best = 0;
		for (let k = 1; k < left.length; k++)
			if (distance(from, places[left[k]]) < distance(from, places[left[best]])) best = k;
		walk.push(...left.splice(best, 1));
	}
	return walk;
}
