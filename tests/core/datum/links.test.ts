import { describe, expect, it } from "vitest";
import { linkBetween } from "../../../core/datum/links.ts";
import { facingOf, type Reaching, servingSet } from "../../../core/datum/reach.ts";
import type { DatumPlace } from "../../../core/datum/seat.ts";
import {
	chainErrorAt,
	linkErrorForm,
	seatErrorAt,
	seatErrorForm,
	type Triangle,
} from "../../../core/datum/seatError.ts";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import { add, scale, sub, type Vec3 } from "../../../core/vector.ts";
import { proving } from "../../support/prove.ts";
import { rigidBySvd } from "../../support/rigidBySvd.ts";

const front: Triangle = [
	[0, -100, 280],
	[90, -60, 40],
	[-90, -60, 40],
];
const back: Triangle = [
	[10, 100, 260],
	[80, 70, 30],
	[-85, 60, 50],
];
const shared: readonly Vec3[] = [
	[110, 0, 200],
	[-110, 10, 190],
	[100, 5, 60],
	[-5, 0, 310],
];

const set = (triangle: Triangle, facing: Vec3 | null = null): Reaching => ({
	forms: [seatErrorForm(triangle)!],
	facing,
});
const spot = (position: Vec3, normal: Vec3): DatumPlace => ({ position, normal });

describe("the error of a link", () => {
	it("of three points is the error of three datums", () => {
		const random = seededRandom(2);
		for (let i = 0; i < 50; i++) {
			const at = (): Vec3 => [random.normal() * 100, random.normal() * 100, random.normal() * 100];
			const triangle: Triangle = [at(), at(), at()];
			const target = at();
			expect(seatErrorAt(linkErrorForm(triangle)!, 0.5, target)).toBeCloseTo(
				seatErrorAt(seatErrorForm(triangle)!, 0.5, target),
				9,
			);
		}
		expect(
			linkErrorForm([
				[0, 0, 0],
				[1, 1, 1],
				[3, 3, 3],
			]),
		).toBeNull();
	});

	it("adds to the seats' own: a chain of fits by singular values, seed 9", () => {
		const e = 0.5;
		const random = seededRandom(9);
		const gauss = (): number =>
			Math.sqrt(-2 * Math.log(random.next() + 2 ** -33)) * Math.cos(2 * Math.PI * random.next());
		const off = (p: Vec3): Vec3 => add(p, scale([gauss(), gauss(), gauss()], e / Math.sqrt(3)));
		const target: Vec3 = [20, 90, 150];
		const trials = proving ? 100_000 : 10_000;
		let sum = 0;
		for (let t = 0; t < trials; t++) {
			// The front seats are off; the link's points are sunk from there; the back seats are set by those points.
			const first = rigidBySvd(front, front.map(off));
			const second = rigidBySvd(
				shared,
				shared.map((p) => off(first.carry(p))),
			);
			const third = rigidBySvd(
				back,
				back.map((p) => off(second.carry(p))),
			);
			const d = sub(third.carry(target), target);
			sum += d[0] * d[0] + d[1] * d[1] + d[2] * d[2];
		}
		const forms = [seatErrorForm(back)!, linkErrorForm(shared)!, seatErrorForm(front)!];
		expect(Math.abs(chainErrorAt(forms, e, target) / Math.sqrt(sum / trials) - 1)).toBeLessThan(proving ? 0.01 : 0.025);
	});
});

describe("the link between two sets", () => {
	const machine = { arm: 400, corners: Float64Array.from([...front, ...back].flat()) };
	const side = (x: number, z: number, nx: number): DatumPlace => spot([x, 0, z], [nx, 0, 0]);
	const places = [
		side(110, 40, 1),
		side(110, 260, 1),
		side(-110, 40, -1),
		side(-110, 260, -1),
		side(112, 150, 1),
		// On the front, which the back set does not face, though they would carry the figure better.
		spot([150, -200, 300], [0, -1, 0]),
		spot([-150, -200, 0], [0, -1, 0]),
	];
	const frontSet = set(front, [0, -1, 0]);
	const backSet = set(back, [0, 1, 0]);

	it("takes points that both crosses face, where none are given", () => {
		const link = finish(linkBetween({ name: "back", to: 0, points: [], places }, backSet, [frontSet], machine));
		expect(link.suggested).toBe(true);
		expect(link.points).toHaveLength(3);
		for (const point of link.points) expect(Math.abs(point.normal[0])).toBe(1);
	});

	it("refuses what cannot be read from both, too few, and sets without common ground", () => {
		const ask = (points: DatumPlace[], arm = 400, to = 0) =>
			finish(linkBetween({ name: "back", to, points, places: [] }, backSet, [frontSet], { ...machine, arm }));
		expect(() => ask(places.slice(0, 2))).toThrowError(
			expect.objectContaining({ issue: expect.objectContaining({ code: "datum.linkPoints" }) }),
		);
		expect(() => ask(places.slice(0, 4), 120)).toThrowError(
			expect.objectContaining({ issue: expect.objectContaining({ code: "datum.linkReach" }) }),
		);
		expect(() => ask([])).toThrowError(
			expect.objectContaining({ issue: expect.objectContaining({ code: "datum.noLink" }) }),
		);
		expect(() => ask(places.slice(0, 4), 400, 1)).toThrowError(
			expect.objectContaining({ issue: expect.objectContaining({ code: "datum.linkTo" }) }),
		);
	});
});

describe("the set that serves a place", () => {
	it("reaches it, faces it, and errs least, in that order", () => {
		const sets = [set(front, [0, -1, 0]), set(back, [0, 1, 0])];
		const at = (y: number, ny: number, arm: number): number => servingSet(sets, 0.5, arm, [0, y, 150], [0, ny, 0]);
		expect(at(-100, -1, 500)).toBe(0);
		expect(at(100, 1, 500)).toBe(1);
		// A place deep in the back that looks to the front is the front set's, unless only the back's arm comes there.
		expect(at(100, -1, 500)).toBe(0);
		expect(at(100, -1, 120)).toBe(1);
	});

	it("counts datums as facing one way only where they do", () => {
		expect(
			facingOf([
				[0, -1, 0],
				[0.6, -0.8, 0],
				[-0.6, -0.8, 0],
			])?.[1],
		).toBeCloseTo(-1, 9);
		expect(
			facingOf([
				[1, 0, 0],
				[-1, 0, 0],
				[0, 0, 1],
			]),
		).toBeNull();
	});
});
