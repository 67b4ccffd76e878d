import highsLoader from "highs";
import { describe, expect, test } from "vitest";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import { stoneOf } from "../../../core/stone/block.ts";
import { fitStone } from "../../../core/stone/fitStone.ts";
import { dot, turn, unit, type Vec3 } from "../../../core/vector.ts";
import { cloud, hullOf, randomRotation } from "./shapes.ts";

const highs = await highsLoader();

/** A number as the solver's text format takes it: no exponent, sixteen digits. */
const written = (x: number): string => `${x < 0 ? "-" : "+"} ${Math.abs(x).toFixed(15)}`;

describe("fixed turn against a linear programming library (npm highs)", () => {
	test("200 seeded turns: the same clearance to a millionth of a millimetre", () => {
		const random = seededRandom(2026);
		for (let n = 0; n < 200; n++) {
			const figure = hullOf(cloud(random, 60, 50, 35, 25));
			const planes: number[] = [];
			for (let k = 0; k < 6; k++) {
				const normal = [0, 0, 0];
				normal[k >> 1] = k & 1 ? 1 : -1;
				planes.push(...normal, 120 + 60 * random.next());
			}
			for (let k = random.below(14); k > 0; k--)
				planes.push(...unit([random.normal(), random.normal(), random.normal()]), 110 + 50 * random.next());
			const stone = stoneOf({ kind: "planes", planes: Float64Array.from(planes) });
			const rotation = randomRotation(random);
			const ours = finish(fitStone(figure, stone, { turning: { kind: "fixed", rotation } }));
			const rows = stone.faces.map(({ normal: [x, y, z], normal, offset }, i) => {
				let reach = -Infinity;
				for (let v = 0; v < figure.vertices.length; v += 3) {
					const at: Vec3 = [figure.vertices[v], figure.vertices[v + 1], figure.vertices[v + 2]];
					reach = Math.max(reach, dot(normal, turn(rotation, at)));
				}
				return ` c${i}: ${written(x)} x ${written(y)} y ${written(z)} z + 1 g <= ${(offset - reach).toFixed(12)}`;
			});
			const answer = highs.solve(
				`Maximize\n obj: g\nSubject To\n${rows.join("\n")}\nBounds\n x free\n y free\n z free\n g free\nEnd\n`,
				{ primal_feasibility_tolerance: 1e-9, dual_feasibility_tolerance: 1e-9 },
			);
			expect(answer.Status).toBe("Optimal");
			expect(Math.abs(ours.spare - answer.ObjectiveValue)).toBeLessThan(1e-6);
		}
	});
});
