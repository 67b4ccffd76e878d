/** From where a place of the scan is best looked at. */

import type { Vec3 } from "../../core/vector.ts";
import type { Stop } from "../state/stops.ts";
import type { Pose } from "./camera.ts";
import type { Picker } from "./picker.ts";

/** Sides from which it is tried after the place's own: the four quarters a little from above and from below, top and bed. */
const SIDES: readonly Vec3[] = [
	...[0.35, -0.35].flatMap((z) =>
		[
			[0, -1],
			[1, 0],
			[-1, 0],
			[0, 1],
			[1, -1],
			[-1, -1],
			[1, 1],
			[-1, 1],
		].map(([x, y]): Vec3 => [x, y, z]),
	),
	[0, -0.05, 1],
	[0, -0.05, -1],
];
/** Places of the lines that are tried from each side. */
const SAMPLES = 12;
/** A side wins over an earlier one only when it shows so many samples more. */
const CLEARLY = 2;
/** Span of the view in radii of the place; least and greatest, mm and share of the figure. */
const AROUND = 5;
const LEAST_SPAN = 30;
const MOST_FIGURES = 1.2;

/** The pose that shows the place from the side on which least of it is hidden, its own first. `figure`: diagonal, mm. */
export function poseOnStop(stop: Stop, picker: Picker | null, figure: number): Pose {
	const own = Math.hypot(...stop.normal) > 0 ? [stop.normal] : [];
	const samples = samplesOf(stop);
	let best = own[0] ?? SIDES[0];
	let most = -CLEARLY;
	for (const side of [...own, ...SIDES]) {
		const long = Math.hypot(...side);
		const eye: Vec3 = [side[0] / long, side[1] / long, side[2] / long];
		const seen = samples.filter((at) => !picker?.blocked(at, eye)).length;
		if (seen < most + CLEARLY) continue;
		most = seen;
		best = eye;
		if (seen === samples.length) break;
	}
	const span = Math.max(LEAST_SPAN, Math.min(MOST_FIGURES * figure, AROUND * stop.radius));
	return { target: stop.centre, azimuth: Math.atan2(best[0], -best[1]), elevation: Math.asin(best[2]), span };
}

function samplesOf({ lines, centre }: Stop): Vec3[] {
	const points = lines.length / 3;
	if (points === 0) return [centre];
	const step = Math.max(1, Math.floor(points / SAMPLES));
	const samples: Vec3[] = [];
	for (let i = 0; i < points; i += step) samples.push([lines[3 * i], lines[3 * i + 1], lines[3 * i + 2]]);
	return samples;
}
