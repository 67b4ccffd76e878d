import { describe, expect, test } from "vitest";
import { finish } from "../../../core/job.ts";
import type { Ground, Pick, Reach, RoundRequest } from "../../../core/pointing/ground.ts";
import { CLAIMED, WHY_NOT } from "../../../core/pointing/report.ts";
import { type PointedGround, placeRounds } from "../../../core/pointing/rounds.ts";
import { Refusal } from "../../../core/refusal.ts";
import { pointingRefusals } from "../../../core/text/pointingRefusals.ts";
import { proving } from "../../support/prove.ts";
import { cylinder, flat, saddle, sphere, spherePatch, torus } from "../../support/shapes.ts";
import { bruteCover } from "./bruteJoin.ts";
import { defaultRounds, dragon, everywhere, groundOf, net } from "./grounds.ts";

const place = (
	ground: Ground,
	requests: readonly RoundRequest[],
	reach: Reach = everywhere,
	picks: readonly Pick[] = [],
): PointedGround => finish(placeRounds(ground, requests, picks, reach));

/** Share of the claimed area where the brute-force join of the drilled points leaves less than `least` mm. */
function cutShare(
	ground: Ground,
	pointed: PointedGround,
	requests: readonly RoundRequest[],
	i: number,
	least: number,
): number {
	const points = pointed.points.filter((p) => p.round <= requests[i].round && p.reachable);
	const brute = bruteCover(ground.mesh, points, requests[i].join);
	let [cut, claimed] = [0, 0];
	for (let v = 0; v < ground.areas.length; v++) {
		if (!pointed.rounds[i].claimed[v]) continue;
		claimed += ground.areas[v];
		if (brute.nearest[v] < least) cut += ground.areas[v];
	}
	expect(claimed).toBeGreaterThan(0);
	return cut / claimed;
}

describe("whole spheres", () => {
	const cases = [20, 50, 100].flatMap((radius) =>
		[6, 3.5, 2].flatMap((join) => [1, 2].map((eyeFactor) => ({ radius, join, eyeFactor }))),
	);
	const some = proving ? cases : cases.filter((_, i) => i % 3 === 0);
	test.each(some)(
		"R $radius, j $join, f $eyeFactor: at most 1.8 times the count foreseen, planned cover everywhere",
		(c) => {
			const { radius, join, eyeFactor } = c;
			const shape = sphere(radius, { edge: Math.max(0.9, radius / 40) });
			const ground = groundOf(shape.mesh);
			const request = net(join, { eyeFactor });
			const pointed = place(ground, [request]);
			const [round] = pointed.rounds;
			expect(round.placed).toBeLessThanOrEqual(1.8 * round.foreseen);
			expect(round.placed).toBe(pointed.points.length);
			expect(round.claimedShare).toBeGreaterThan(0.999);
			expect(round.leastCover).toBeGreaterThanOrEqual((round.plannedCover as number) - 1e-3);
			expect(cutShare(ground, pointed, [request], 0, (round.plannedCover as number) - 0.1)).toBeLessThan(0.001);
			// The least cover stands where the report says.
			expect(round.cover[round.leastCoverVertex as number]).toBe(round.leastCover);
		},
	);
});

describe("other closed forms, with scan-like noise: nothing claimed is cut", () => {
	const shapes = [
		torus(40, 18, { edge: 1.6, noise: 0.05 }),
		cylinder(25, 120, { edge: 1.6, noise: 0.05 }),
		saddle(60, 120, { edge: 1.6, noise: 0.05 }),
		spherePatch(80, 120, { edge: 1.6, noise: 0.05 }),
	];
	test.each(shapes.map((s) => [s.name, s] as const))("%s", (_, shape) => {
		const ground = groundOf(shape.mesh);
		const requests = [net(6, { round: 0 }), net(2, { round: 1 })];
		const pointed = place(ground, requests);
		for (const i of [0, 1]) {
			expect(cutShare(ground, pointed, requests, i, 0)).toBeLessThan(0.001);
			expect(pointed.rounds[i].claimedShare).toBeGreaterThan(0.9);
		}
	});
});

describe(`a scan: the dragon at 300 mm, eye factor 1 (${proving ? "202,520" : "47,794"} triangles)`, () => {
	const ground = groundOf(dragon(proving ? 2 : 3));
	const requests = defaultRounds(1);
	// Undercuts as a carver meets them, without the drilling stage: what faces the foot.
	const reach: Reach = (_x, _y, _z, _nx, _ny, nz) => nz > -0.7;
	const pointed = place(ground, requests, reach);

	test.each([1, 2, 3])(
		"round %s: brute-force facets keep cover on 99.9 % of the claimed area, 70 % and more is claimed",
		(i) => {
			const round = pointed.rounds[i];
			expect(cutShare(ground, pointed, requests, i, 0)).toBeLessThan(0.001);
			expect(round.claimedShare).toBeGreaterThan(0.7);
			expect(round.leastCover).toBeGreaterThanOrEqual((round.plannedCover as number) - 1e-3);
			// Foreseen and placed beside each other: the spread is sparer than the rule where the join can spare points.
			expect(round.earlier + round.placed).toBeLessThan(1.8 * round.foreseen);
		},
	);

	test("what is not claimed has its reason, and the areas add up", () => {
		const total = ground.areas.reduce((x, y) => x + y, 0);
		for (const round of pointed.rounds.slice(1)) {
			expect(round.areaByReason).toHaveLength(WHY_NOT.length);
			expect(round.areaByReason.reduce((x, y) => x + y, 0) / total).toBeCloseTo(1, 6);
			expect(round.areaByReason[CLAIMED] / total).toBeCloseTo(round.claimedShare as number, 9);
			for (let v = 0; v < ground.areas.length; v++) {
				expect(round.claimed[v] === 1).toBe(round.reason[v] === CLAIMED);
				if (WHY_NOT[round.reason[v]] === "by eye") expect(round.byEye[v]).toBe(1);
				if (WHY_NOT[round.reason[v]] === "undercut") expect(round.unreached[v]).toBe(1);
			}
		}
	});

	test("high points stand a form apart, carry no limit and no cover, and stay", () => {
		const [high] = pointed.rounds;
		expect(high.plannedCover).toBeNull();
		expect(high.claimedShare).toBeNull();
		expect(high.cover.every((c) => Number.isNaN(c))).toBe(true);
		const points = pointed.points.filter((p) => p.round === 0);
		expect(points).toHaveLength(high.placed);
		expect(points.length).toBeGreaterThan(20);
		expect(points.every((p) => p.kind === "high point" && p.reachable)).toBe(true);
		// Each is the highest of the ground within half a spacing of it, along the mean normal there, but for its settling.
		expect(pointed.rounds[1].earlier).toBe(high.placed);
	});

	test("undercuts are listed and nothing rests on them; all points stand on vertices with the field's normals", () => {
		for (const p of pointed.points) {
			expect(p.reachable).toBe(reach(...p.position, ...p.normal, p.round));
			if (!p.reachable) expect(p.reason).toBe("undercut");
			for (let k = 0; k < 3; k++) {
				expect(p.position[k]).toBe(ground.mesh.positions[3 * p.vertex + k]);
				expect(p.normal[k]).toBe(ground.field.normals[3 * p.vertex + k]);
			}
		}
		expect(pointed.points.some((p) => !p.reachable)).toBe(true);
	});

	test("added points keep half the least spacing, 5 mm, from every other point along the surface", () => {
		const drilled = new Map(pointed.points.filter((p) => p.reachable).map((p) => [p.vertex, p.round]));
		const { neighbourStart, neighbourList } = ground.adjacency;
		const p = ground.mesh.positions;
		let tried = 0;
		for (const point of pointed.points) {
			if (point.kind !== "added") continue;
			tried++;
			// Ways along edges are no shorter than those over the surface.
			const reached = new Map([[point.vertex, 0]]);
			const waiting = [point.vertex];
			for (let v = waiting.pop(); v !== undefined; v = waiting.pop()) {
				const so = reached.get(v) as number;
				if (v !== point.vertex) expect(drilled.get(v) ?? 99).toBeGreaterThan(point.round);
				for (const w of neighbourList.slice(neighbourStart[v], neighbourStart[v + 1])) {
					const d = so + Math.hypot(...[0, 1, 2].map((k) => p[3 * w + k] - p[3 * (v as number) + k]));
					if (d >= 5 || d >= (reached.get(w) ?? 5)) continue;
					reached.set(w, d);
					waiting.push(w);
				}
			}
		}
		expect(tried).toBeGreaterThan(10);
	});

	test("the same again gives the same points and the same reports", () => {
		const again = place(ground, requests, reach);
		expect(again.points).toEqual(pointed.points);
		expect(again.rounds.map((r) => r.areaByReason)).toEqual(pointed.rounds.map((r) => r.areaByReason));
	});
});

describe("what the carver asks for", () => {
	const shape = sphere(60, { edge: 1.8 });
	const ground = groundOf(shape.mesh);

	test("picked points stay, at their own place, in the first round, and count in every join", () => {
		const position = [0.3, -60.1, 0.2] as const;
		const pointed = place(ground, [net(6), net(2, { round: 1 })], everywhere, [{ position, normal: [0, -1, 0] }]);
		const [pick] = pointed.points;
		expect(pick).toMatchObject({ kind: "picked", position, round: 0, reachable: true });
		expect(pick.normal[1]).toBeCloseTo(-1, 2);
		expect(pointed.rounds[0].earlier).toBe(1);
		const near = pointed.points.slice(1).map((p) => Math.hypot(...p.position.map((x, k) => x - position[k])));
		expect(Math.min(...near)).toBeGreaterThan(5);
	});

	test("a pick off the figure is refused with where it is", () => {
		expect(() => place(ground, [net(6)], everywhere, [{ position: [0, 0, 0], normal: [0, 0, 1] }])).toThrow(
			expect.objectContaining({ issue: expect.objectContaining({ code: "pointing.pickOffGround" }) }),
		);
	});

	test("points of earlier rounds stay, and later rounds put theirs between them", () => {
		const first = place(ground, [net(6)]);
		const both = place(ground, [net(6), net(2, { round: 1 })]);
		expect(both.points.filter((p) => p.round === 0)).toEqual(first.points);
		expect(both.rounds[1].earlier).toBe(first.points.length);
		expect(both.points.length).toBeGreaterThan(1.5 * first.points.length);
	});

	test("a number of points instead of a limit: exactly that many, and the worst sag falls as it grows", () => {
		const worst = [20, 40, 80].map((count) => {
			const { points, rounds } = place(ground, [net(6, { count })]);
			expect(points).toHaveLength(count);
			return Math.min(...rounds[0].cover.filter((c) => !Number.isNaN(c)));
		});
		expect(worst[1]).toBeGreaterThan(worst[0]);
		expect(worst[2]).toBeGreaterThan(worst[1]);
		// Six points and more spent one by one where it is worst are no worse than half as many spread by the limit.
		expect(worst[2]).toBeGreaterThan(1.5);
	});

	test("ground brushed out stays rough; ground brushed denser takes more points", () => {
		const left = Float32Array.from(ground.areas, (_, v) => (ground.mesh.positions[3 * v] > 0 ? 1 : 0));
		const half = place({ ...ground, brushed: left }, [net(6)]);
		expect(half.points.every((p) => p.position[0] > 0)).toBe(true);
		expect(half.rounds[0].areaByReason[WHY_NOT.indexOf("left rough")]).toBeGreaterThan(0.4 * 4 * Math.PI * 3600);
		const denser = Float32Array.from(ground.areas, (_, v) => (ground.mesh.positions[3 * v] > 0 ? 0.6 : 1));
		const dense = place({ ...ground, brushed: denser }, [net(6)]);
		const count = (sign: number): number => dense.points.filter((p) => sign * p.position[0] > 0).length;
		expect(dense.rounds[0].foreseen).toBeGreaterThan(1.5 * place(ground, [net(6)]).rounds[0].foreseen);
		expect(count(1)).toBeGreaterThan(count(-1));
	});

	test("what no drill reaches is an undercut: listed once, its ground not claimed; a later drill that reaches it takes it over", () => {
		const below: Reach = (_x, _y, _z, _nx, _ny, nz, round) => nz > -0.5 || round === 1;
		const { points, rounds } = place(ground, [net(6), net(3.5, { round: 1 })], below);
		const low = ground.areas.map((a, v) => (ground.field.normals[3 * v + 2] < -0.6 ? a : 0));
		const share = (flags: Uint8Array): number =>
			low.reduce((sum, a, v) => sum + (flags[v] ? a : 0), 0) / low.reduce((x, y) => x + y);
		expect(share(rounds[0].unreached)).toBeGreaterThan(0.9);
		expect(share(rounds[0].claimed)).toBeLessThan(0.1);
		expect(share(rounds[1].claimed)).toBeGreaterThan(0.95);
		expect(points.every((p) => p.reachable)).toBe(true);
	});

	test("where nothing can be reached everything is undercut and nothing is claimed", () => {
		const { points, rounds } = place(ground, [net(6)], () => false);
		expect(points.every((p) => !p.reachable)).toBe(true);
		expect(rounds[0]).toMatchObject({ claimedShare: 0, leastCover: null, greatestCover: null, leastCoverVertex: null });
	});
});

describe("open shells", () => {
	test("points line the rim, and little of the ground lies past the join", () => {
		const ground = groundOf(spherePatch(120, 160, { edge: 2 }).mesh);
		const { points, rounds } = place(ground, [net(6)]);
		expect(points.filter((p) => ground.adjacency.onRim[p.vertex]).length).toBeGreaterThan(8);
		const rim = rounds[0].areaByReason[WHY_NOT.indexOf("rim")];
		expect(rim / ground.areas.reduce((x, y) => x + y)).toBeLessThan(0.06);
		expect(rounds[0].claimedShare).toBeGreaterThan(0.9);
	});

	test("backing carries no points", () => {
		const front = flat(60, { edge: 2 }).mesh;
		const n = front.positions.length / 3;
		const positions = new Float64Array(6 * n);
		positions.set(front.positions);
		for (let v = 0; v < n; v++) positions.set([front.positions[3 * v], front.positions[3 * v + 1], -20], 3 * (n + v));
		const back = Array.from(front.triangles, (v) => v + n).reverse();
		const triangles = Uint32Array.from([...front.triangles, ...back]);
		const ground = { ...groundOf({ positions, triangles }), firstAddedTriangle: front.triangles.length / 3 };
		const { points, rounds } = place(ground, [net(6)]);
		expect(points.length).toBeGreaterThan(3);
		expect(points.every((p) => p.position[2] === 0)).toBe(true);
		expect(rounds[0].claimed.slice(n).every((c) => c === 0)).toBe(true);
		// Shares are of the scan, not of its backing.
		expect(rounds[0].claimedShare).toBeGreaterThan(0.85);
	});
});

describe("refusals", () => {
	const ground = groundOf(sphere(20, { edge: 2 }).mesh);
	test.each([
		["pointing.noRounds", ground, []],
		["pointing.joinTooSmall", ground, [net(0.4)]],
		["pointing.count", ground, [net(6, { count: 0 })]],
		["pointing.count", ground, [net(6, { count: 2.5 })]],
		["pointing.noGround", { ...ground, brushed: new Float32Array(ground.areas.length) }, [net(6)]],
	] as const)("%s says what and what to do, on one line", (code, on, requests) => {
		let issue: Refusal["issue"] | null = null;
		try {
			place(on, requests);
		} catch (error) {
			if (!(error instanceof Refusal)) throw error;
			issue = error.issue;
		}
		expect(issue?.code).toBe(code);
		const sentence = pointingRefusals[code](issue?.facts ?? {});
		expect(sentence).not.toMatch(/undefined|NaN|\n/);
		expect(sentence.length).toBeGreaterThan(40);
	});
});
