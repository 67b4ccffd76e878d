import { describe, expect, it } from "vitest";
import { seatErrorAt, seatErrorForm, seatErrorMap, type Triangle } from "../../../core/datum/seatError.ts";
import { seededRandom } from "../../../core/random.ts";
import { add, multiply, rotationFromQuaternion, scale, sub, turn, type Vec3 } from "../../../core/vector.ts";
import { proving, share } from "../../support/prove.ts";
import { rigidBySvd } from "../../support/rigidBySvd.ts";

const root3 = Math.sqrt(3);

/** Root mean square errors of targets over `trials` fits with seats off by e (root mean square, three-dimensional). */
function monteCarlo(triangle: Triangle, targets: readonly Vec3[], e: number, trials: number, seed: number): number[] {
	const random = seededRandom(seed);
	const gauss = (): number =>
		Math.sqrt(-2 * Math.log(random.next() + 2 ** -33)) * Math.cos(2 * Math.PI * random.next());
	const sums = targets.map(() => 0);
	for (let t = 0; t < trials; t++) {
		const moved = triangle.map((p) => add(p, scale([gauss(), gauss(), gauss()], e / root3)));
		const fit = rigidBySvd(triangle, moved);
		targets.forEach((target, i) => {
			const off = sub(fit.carry(target), target);
			sums[i] += off[0] * off[0] + off[1] * off[1] + off[2] * off[2];
		});
	}
	return sums.map((sum) => Math.sqrt(sum / trials));
}

const busts: Triangle = [
	[0, 0, 0],
	[300, 0, 0],
	[120, 200, 80],
];
const slim: Triangle = [
	[0, 0, 0],
	[600, 0, 0],
	[300, 80, 0],
];

describe("seat error", () => {
	// Values computed independently of the project with a general-purpose numerical library for the formula of
	// Fitzpatrick, West and Maurer 1998 (reference group 1.05 and 1.06); e = 0.5 mm.
	it.each([
		[busts, [140, 66.66666667, 26.66666667], 0.288675],
		[busts, [150, 100, 60], 0.304303],
		[busts, [150, 100, 200], 0.46897],
		[busts, [400, 350, -50], 0.816295],
		[slim, [300, 150, 0], 0.622338],
		[slim, [300, 30, 250], 1.15464],
		[slim, [700, 400, 150], 1.861422],
	] as [Triangle, Vec3, number][])("agrees with the published formula %#", (triangle, target, expected) => {
		expect(seatErrorAt(seatErrorForm(triangle)!, 0.5, target)).toBeCloseTo(expected, 5);
	});

	// Closed form for equilateral datums of circumradius ρ (reference 1.07).
	it("is e²/3 (1 + x²/ρ² + 4h²/3ρ²) over an equilateral triangle", () => {
		const rho = 100;
		const equilateral: Triangle = [
			[rho, 0, 0],
			[-rho / 2, (rho * root3) / 2, 0],
			[-rho / 2, (-rho * root3) / 2, 0],
		];
		const form = seatErrorForm(equilateral)!;
		for (const [x, h] of [
			[0, 150],
			[100, 0],
			[200, 0],
			[120, 50],
		])
			expect(seatErrorAt(form, 0.6, [x, 0, h])).toBeCloseTo(
				Math.sqrt(0.12 * (1 + (x * x) / (rho * rho) + (4 * h * h) / (3 * rho * rho))),
				9,
			);
	});

	it("does not change when everything is turned and moved", () => {
		const random = seededRandom(7);
		for (let i = 0; i < 100; i++) {
			const q = [random.normal(), random.normal(), random.normal(), random.normal()] as const;
			const r = multiply(rotationFromQuaternion(q), rotationFromQuaternion([q[1], q[0], q[3], q[2]]));
			const shift: Vec3 = [random.normal() * 100, random.normal() * 100, random.normal() * 100];
			const moved = (p: Vec3): Vec3 => add(turn(r, p), shift);
			const target: Vec3 = [random.normal() * 200, random.normal() * 200, random.normal() * 200];
			const before = seatErrorAt(seatErrorForm(busts)!, 1, target);
			const after = seatErrorAt(seatErrorForm(busts.map(moved) as unknown as Triangle)!, 1, moved(target));
			expect(after).toBeCloseTo(before, 9);
			const map = seatErrorMap([seatErrorForm(busts)!], 1, Float64Array.from(target));
			expect(map[0]).toBeCloseTo(before, 5);
		}
	});

	it("refuses three datums on one line", () => {
		expect(
			seatErrorForm([
				[0, 0, 0],
				[100, 100, 100],
				[300, 300, 300],
			]),
		).toBeNull();
	});

	// A hundred pairs of a triangle and a target: twenty triangles with five targets each share their fits.
	it(
		`agrees with Monte-Carlo fits by singular value decomposition, seed 11${proving ? "" : " (a tenth)"}`,
		() => {
			const random = seededRandom(11);
			const trials = proving ? 200_000 : 20_000;
			let worst = 0;
			for (let i = 0; i < share(20); i++) {
				const place = (s: number): Vec3 => [random.normal() * s, random.normal() * s, random.normal() * s];
				let triangle: Triangle = [place(150), place(150), place(150)];
				let form = seatErrorForm(triangle);
				// Slimmer triangles leave the first-order formula's range at this error.
				while (form === null || form.weights[1] > 1 / 900) {
					triangle = [place(150), place(150), place(150)];
					form = seatErrorForm(triangle);
				}
				const own = form;
				const targets = Array.from({ length: 5 }, () => place(200));
				const simulated = monteCarlo(triangle, targets, 0.5, trials, 100 + i);
				targets.forEach((target, k) => {
					worst = Math.max(worst, Math.abs(seatErrorAt(own, 0.5, target) / simulated[k] - 1));
				});
			}
			console.info(
				`seat error: formula against simulation, ${5 * share(20)} pairs: at most ${(100 * worst).toFixed(2)} % apart`,
			);
			expect(worst).toBeLessThan(proving ? 0.01 : 0.02);
		},
		proving ? 900_000 : 60_000,
	);
});
