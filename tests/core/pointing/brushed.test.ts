import { describe, expect, test } from "vitest";
import { finish } from "../../../core/job.ts";
import { armTravel } from "../../../core/pointing/armTravel.ts";
import { brushedGround } from "../../../core/pointing/brushed.ts";
import { placeRounds } from "../../../core/pointing/rounds.ts";
import { middlePlane } from "../../../core/pointing/side.ts";
import { pointingRefusals } from "../../../core/text/pointingRefusals.ts";
import type { Vec3 } from "../../../core/vector.ts";
import { patch, together } from "../../support/groundMesh.ts";
import { sphere } from "../../support/shapes.ts";
import { everywhere, groundOf, net } from "./grounds.ts";

describe("ground brushed on a sphere of R 60", () => {
	const ground = groundOf(sphere(60, { edge: 1.8 }).mesh);
	const { mesh, adjacency, field, areas } = ground;
	const top = { position: [0, 0, 60] as Vec3, normal: [0, 0, 1] as Vec3, radius: 20 };
	const brush = (...list: Parameters<typeof brushedGround>[4][number][]) =>
		finish(brushedGround(mesh, adjacency, field, 3, list));

	test("nothing brushed, nothing changed", () => expect(brush()).toBeNull());

	test("a dab is the cap within its radius: area π r², by the straight radius (Archimedes)", () => {
		const factors = brush({ factor: 0.5, dabs: [top] }) as Float32Array;
		let cap = 0;
		for (const [v, a] of areas.entries()) if (factors[v] === 0.5) cap += a;
		expect(cap / (Math.PI * 20 * 20)).toBeGreaterThan(0.93);
		expect(cap / (Math.PI * 20 * 20)).toBeLessThan(1.07);
		expect(factors.every((f) => f === 1 || f === 0.5)).toBe(true);
	});

	test("the later of two areas counts where they overlap", () => {
		const factors = brush({ factor: 0.5, dabs: [top] }, { factor: 0, dabs: [{ ...top, radius: 10 }] }) as Float32Array;
		expect(factors[factors.findIndex((_, v) => mesh.positions[3 * v + 2] > 59.5)]).toBe(0);
		expect(factors.includes(0.5)).toBe(true);
	});

	test("a dab off the figure is refused in one sentence", () => {
		expect(() => brush({ factor: 0, dabs: [{ ...top, position: [0, 0, 90] }] })).toThrow(
			expect.objectContaining({ issue: expect.objectContaining({ code: "pointing.areaOffGround" }) }),
		);
		expect(pointingRefusals["pointing.areaOffGround"]({ pick: 1, at: [0, 0, 90], farthest: 10 })).toMatch(
			/Brush it anew/,
		);
	});
});

test("the other side of a thin leaf keeps its own factor", () => {
	const leaf = together(
		patch(20, 20, (u, v) => [60 * u, 60 * v, 1]),
		patch(20, 20, (u, v) => [60 * v, 60 * u, 0]),
	);
	const { mesh, adjacency, field } = groundOf(leaf);
	const factors = finish(
		brushedGround(mesh, adjacency, field, 3, [
			{ factor: 0, dabs: [{ position: [30, 30, 1], normal: [0, 0, 1], radius: 15 }] },
		]),
	) as Float32Array;
	for (const [v, f] of factors.entries()) if (mesh.positions[3 * v + 2] === 0) expect(f).toBe(1);
	expect(factors.filter((f) => f === 0).length).toBeGreaterThan(50);
});

describe("points already drilled, on a sphere of R 60", () => {
	const ground = groundOf(sphere(60, { edge: 1.8 }).mesh);
	const first = finish(placeRounds(ground, [net(6)], [], everywhere));
	const drilled = first.points.slice(2, 9).map((p, i) => ({ ...p, number: 40 + i, round: 0 }));
	const next = finish(placeRounds(ground, [net(4), net(2, { round: 1 })], [], everywhere, drilled));

	test("keep place, normal, round and number whatever the rounds become; the others have none", () => {
		for (const hole of drilled)
			expect(next.points.find((p) => p.number === hole.number)).toMatchObject({
				position: hole.position,
				normal: hole.normal,
				round: 0,
				kind: hole.kind,
			});
		expect(next.points.filter((p) => p.number !== null)).toHaveLength(drilled.length);
	});

	test("nothing new comes within half the least spacing of them, and they count in the join", () => {
		for (const p of next.points)
			for (const hole of drilled)
				if (p.number === null)
					expect(Math.hypot(...p.position.map((x, k) => x - hole.position[k]))).toBeGreaterThan(4.8);
		expect(next.rounds[0].placed).toBe(next.points.filter((p) => p.round === 0).length);
		expect(next.rounds[0].claimedShare).toBeGreaterThan(0.999);
	});

	test("count towards a number of points", () => {
		const { points } = finish(placeRounds(ground, [net(6, { count: 20 })], [], everywhere, drilled));
		expect(points).toHaveLength(20);
	});

	test("a pick that has been drilled is not entered twice", () => {
		const pick = { position: drilled[0].position, normal: drilled[0].normal };
		const { points } = finish(placeRounds(ground, [net(6)], [pick], everywhere, drilled));
		expect(points.filter((p) => p.kind === "picked")).toHaveLength(0);
	});
});

test("way of the arm on a row of three, by hand: 10 + 30 in order, 10 + 20 to the nearest", () => {
	const way = armTravel([
		[0, 0, 0],
		[10, 0, 0],
		[-20, 0, 0],
	]);
	expect(way.order).toBe(40);
	expect(way.nearest).toBe(40);
	expect([30, 40, 50]).toContain(way.random);
	expect(
		armTravel([
			[0, 0, 0],
			[30, 0, 0],
			[10, 0, 0],
		]),
	).toMatchObject({ order: 50, nearest: 30 });
	expect(armTravel([])).toEqual({ order: 0, nearest: 0, random: 0 });
});

test("a middle plane of any length is brought to length 1; without one the bounds are halved", () => {
	expect(middlePlane({ normal: [0, 2, 0], offset_mm: 10 }, new Float64Array())).toEqual({
		normal: [0, 1, 0],
		offset: 5,
	});
	expect(middlePlane(null, new Float64Array([0, 0, 0, 8, 1, 1]))).toEqual({ normal: [1, 0, 0], offset: 4 });
});
