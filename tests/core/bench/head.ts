/** The trial head of the drift checks: 300 mm high, four fixed layouts of datums, points on its front half. */

import type { ReadPlace } from "../../../core/bench/stories.ts";
import type { Triangle } from "../../../core/datum/seatError.ts";
import { type Random, seededRandom } from "../../../core/random.ts";
import { unit, type Vec3 } from "../../../core/vector.ts";

export const LAYOUTS: Readonly<Record<string, Triangle>> = {
	"wide base and crown": [
		[0, 0, 300],
		[95, -10, 15],
		[-95, 10, 15],
	],
	"base only": [
		[0, 90, 15],
		[85, -50, 15],
		[-85, -50, 15],
	],
	face: [
		[0, -85, 235],
		[55, -75, 95],
		[-55, -75, 95],
	],
	"small back": [
		[0, 95, 200],
		[45, 85, 110],
		[-45, 85, 110],
	],
};

export const anyWay = (random: Random): Vec3 => unit([random.normal(), random.normal(), random.normal()]);

/** Points of an egg of 160 × 200 × 300 mm that face forward, on lines within some 20° of square to it. */
export function frontPoints(count: number, seed: number): ReadPlace[] {
	const random = seededRandom(seed);
	const points: ReadPlace[] = [];
	while (points.length < count) {
		const [x, y, z] = anyWay(random);
		const at: Vec3 = [80 * x, 100 * y, 150 + 150 * z];
		if (y > 0 || at[2] < 15) continue;
		const [nx, ny, nz] = unit([x / 80, y / 100, z / 150]);
		const off = (): number => 0.2 * random.normal();
		points.push({ at, line: unit([nx + off(), ny + off(), nz + off()]) });
	}
	return points;
}

export function drawn<T>(random: Random, all: readonly T[], count: number): T[] {
	const pool = [...all];
	return Array.from({ length: count }, () => pool.splice(random.below(pool.length), 1)[0]);
}
