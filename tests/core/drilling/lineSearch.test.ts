import { describe, expect, it } from "vitest";
import { webBetween } from "../../../core/drilling/crossings.ts";
import { type Aim, aimOf, type Drill, drillOf } from "../../../core/drilling/drill.ts";
import { type DrillLine, type Hole, isUndercut, type Undercut } from "../../../core/drilling/drillLine.ts";
import { createHoleGauge } from "../../../core/drilling/holeGauge.ts";
import { createLineSearch, type LineSearchSetup } from "../../../core/drilling/lineSearch.ts";
import { thicknessAt } from "../../../core/drilling/thickness.ts";
import { finish } from "../../../core/job.ts";
import { toolSchema } from "../../../core/plan/commission.ts";
import { seededRandom } from "../../../core/random.ts";
import { Refusal } from "../../../core/refusal.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { exitOf, leansOf, stoneOf } from "../../../core/stone/block.ts";
import { buildSurfaceIndex } from "../../../core/surface/surfaceIndex.ts";
import { drillingRefusals } from "../../../core/text/drillingRefusals.ts";
import {
	along,
	cross,
	dot,
	IDENTITY,
	place,
	rotationFromQuaternion,
	sub,
	transpose,
	turn,
	unit,
	type Vec3,
} from "../../../core/vector.ts";
import { patch, square, together, turned } from "../../support/groundMesh.ts";
import { share } from "../../support/prove.ts";

const drill = (over: Partial<Drill> = {}): Drill => ({ ...drillOf(toolSchema.parse({})), ...over });
const radians = (degrees: number): number => (degrees * Math.PI) / 180;
const tiltDeg = (line: DrillLine): number => (Math.acos(Math.min(1, line.tiltCosine)) * 180) / Math.PI;
const STEADY: Aim = { mark: 0, leanDeg: 0, wander: 0, fromFace: false };

/** A block of 140 × 140 × 120 with the model's origin 60 mm over the middle of its bed. */
function setupOf(mesh: TriangleMesh, over: Partial<LineSearchSetup> = {}): LineSearchSetup {
	return {
		index: finish(buildSurfaceIndex(mesh)),
		stone: stoneOf({ kind: "box", size: [140, 140, 120] }),
		placement: { rotation: IDENTITY, translation: [70, 70, 60] },
		lies: [{ name: "upright", closedFace: "bed" }],
		coneDeg: 30,
		leanDeg: 25,
		outsideMm: 300,
		aim: aimOf("faces"),
		...over,
	};
}
const searchOn = (mesh: TriangleMesh, over: Partial<LineSearchSetup> = {}) => createLineSearch(setupOf(mesh, over));
const lineOf = (answer: DrillLine | Undercut): DrillLine => {
	if (isUndercut(answer)) throw new Error(`undercut: ${answer.reason}`);
	return answer;
};
const undercutOf = (answer: DrillLine | Undercut): Undercut => {
	if (!isUndercut(answer)) throw new Error(`a line of tilt ${tiltDeg(answer)}`);
	return answer;
};
const ORIGIN = { position: [0, 0, 0], normal: [0, 0, 1] } as const;

describe("the line of a point, by hand", () => {
	it("on level ground goes straight up: 60 mm of stone less a stop of 2", () => {
		const line = lineOf(searchOn(square([0, 0, 0], 50)).find(ORIGIN, drill(), 2));
		expect(line.face.name).toBe("top");
		expect(line.leanDeg).toEqual([0, 0]);
		expect(line.direction).toEqual([0, 0, 1]);
		expect([line.u, line.v]).toEqual([70, 70]);
		expect(line.entry).toEqual([70, 70, 120]);
		expect(line.length).toBe(60);
		expect(line.stop).toBeCloseTo(2, 9);
		expect(line.depth).toBeCloseTo(58, 9);
		expect(line.stoneAlong).toBe(line.depth);
		expect(line.clearance).toBeCloseTo(2, 9);
		expect(line.aimSafeDeg).toBe(10);
		expect(line.thin).toBe(false);
	});

	it("leans by whole degrees of the printed grid, as near to the normal as the grid allows", () => {
		const normal = unit([Math.tan(radians(7.3)), Math.tan(radians(-3.9)), 1]);
		const ground = patch(4, 4, (x, y) => {
			const [a, b] = [100 * x - 50, 100 * y - 50];
			return [a, b, -(normal[0] * a + normal[1] * b) / normal[2]];
		});
		const line = lineOf(searchOn(ground).find({ position: [0, 0, 0], normal }, drill(), 2));
		expect(line.leanDeg).toEqual([7, -4]);
		expect(line.leanDeg.map((a) => Math.tan(radians(a)))).toEqual([
			expect.closeTo(line.direction[0] / line.direction[2], 12),
			expect.closeTo(line.direction[1] / line.direction[2], 12),
		]);
	});

	it("passes by a small roof 20 mm over the target, and not a wide one", () => {
		const under = (half: number) =>
			searchOn(together(square([0, 0, 0], 50), square([0, 0, 20], half)), { aim: STEADY });
		const small = lineOf(under(3).find(ORIGIN, drill(), 2));
		// The rim of the hole grown by 2 passes the roof's edge: 3 cos t + 5.25 ≤ 20 sin t, for the flat roof's nearest side.
		expect(tiltDeg(small)).toBeGreaterThan(22);
		expect(tiltDeg(small)).toBeLessThan(25.1);
		expect(small.clearance).toBeGreaterThan(2 - 1e-9);
		const wide = undercutOf(under(8).find(ORIGIN, drill(), 2));
		expect(wide.reason).toBe("blocked");
		expect(wide.blockedAt![2]).toBeCloseTo(20, 6);
		expect(under(8).reaches(ORIGIN, drill(), 2)).toBe(false);
		const opening = under(8).opening(ORIGIN, drill(), 2);
		expect(opening.by).toBe("lean");
		expect(under(40).opening(ORIGIN, drill(), 2)).toEqual({ by: "nothing" });
	});

	it("does not take a roof just over the target for the target", () => {
		const search = searchOn(together(square([0, 0, 0], 50), square([0, 0, 3], 50)));
		expect(undercutOf(search.find(ORIGIN, drill(), 2)).reason).toBe("blocked");
	});

	it("keeps 300 mm of line outside the stone over the banker", () => {
		// A wall that faces right and 20° down, 20 mm over the banker.
		const normal: Vec3 = [Math.cos(radians(20)), 0, -Math.sin(radians(20))];
		const up: Vec3 = [Math.sin(radians(20)), 0, Math.cos(radians(20))];
		const at: Vec3 = [40, 0, -40];
		const wall = patch(4, 4, (u, v) => along(along(at, [0, 1, 0], 40 * u - 20), up, 30 * v - 15));
		const line = lineOf(searchOn(wall).find({ position: at, normal }, drill(), 2));
		expect(line.face.name).toBe("right");
		expect(line.entry[2] + 300 * line.direction[2]).toBeGreaterThanOrEqual(0);
		expect(tiltDeg(line)).toBeGreaterThan(15);
		const narrow = searchOn(wall, { coneDeg: 5 });
		expect(undercutOf(narrow.find({ position: at, normal }, drill(), 2)).reason).toBe("banker");
		expect(narrow.opening({ position: at, normal }, drill(), 2)).toMatchObject({ by: "lie", face: "right" });
		const free = lineOf(searchOn(wall, { coneDeg: 5, outsideMm: 5 }).find({ position: at, normal }, drill(), 2));
		expect(tiltDeg(free)).toBeLessThan(0.5);
	});

	it("says when the drill is too short, and how long it must be; the chuck's rim counts on a leaning line", () => {
		const search = searchOn(square([0, 0, 0], 50), { aim: STEADY });
		expect(lineOf(search.find(ORIGIN, drill({ reach: 58 }), 2)).depth).toBeCloseTo(58, 9);
		expect(undercutOf(search.find(ORIGIN, drill({ reach: 57.9 }), 2)).reason).toBe("reach");
		expect(search.opening(ORIGIN, drill({ reach: 40 }), 2)).toEqual({ by: "reach", reach: expect.closeTo(58, 6) });
		const normal = unit([Math.tan(radians(20)), 0, 1]);
		const slope = patch(4, 4, (u, v) => [80 * u - 40, 80 * v - 40, -(80 * u - 40) * Math.tan(radians(20))]);
		const needed = 60 / Math.cos(radians(20)) - 2 + 22.5 * Math.tan(radians(20));
		const narrow = searchOn(slope, { aim: STEADY, coneDeg: 1 });
		const target = { position: [0, 0, 0] as Vec3, normal };
		expect(isUndercut(narrow.find(target, drill({ reach: needed + 1.5 }), 2))).toBe(false);
		expect(undercutOf(narrow.find(target, drill({ reach: needed - 1.5 }), 2)).reason).toBe("reach");
	});

	it("says when there is less stone than the stop must leave, and when no face can be entered", () => {
		const shallow = searchOn(square([0, 0, 58.5], 50));
		expect(undercutOf(shallow.find({ position: [0, 0, 58.5], normal: [0, 0, 1] }, drill(), 2)).reason).toBe("shallow");
		const down = searchOn(square([0, 0, 0], 50));
		const answer = down.find({ position: [0, 0, 0], normal: [0, 0, -1] }, drill(), 2);
		expect(undercutOf(answer)).toEqual({ reason: "lean", triangle: -1, blockedAt: null });
		expect(down.opening({ position: [0, 0, 0], normal: [0, 0, -1] }, drill(), 2)).toMatchObject({
			by: "lie",
			face: "bed",
		});
	});

	it("works a point in the first lie that has a line, though a later one would tilt less", () => {
		const normal = unit([Math.tan(radians(44)), 0, 1]);
		const slope = patch(4, 4, (u, v) => [80 * u - 40, 80 * v - 40, -(80 * u - 40) * Math.tan(radians(44))]);
		const target = { position: [0, 0, 0] as Vec3, normal };
		const lies = [
			{ name: "on its right", closedFace: "right" },
			{ name: "upright", closedFace: "bed" },
		];
		const first = lineOf(searchOn(slope, { lies, coneDeg: 45 }).find(target, drill(), 2));
		expect([first.lie, first.face.name]).toEqual([0, "top"]);
		const second = lineOf(
			searchOn(slope, { lies: [{ name: "on its head", closedFace: "top" }, lies[1]], coneDeg: 45 }).find(
				target,
				drill(),
				2,
			),
		);
		expect(second.face.name).toBe("right");
	});

	it("takes the neighbours' direction when it is as little tilted, and only then", () => {
		const search = searchOn(square([0, 0, 0], 50));
		const target = { position: [0, 0, 0] as Vec3, normal: unit([Math.tan(radians(0.2)), 0, 1]) };
		const with_ = (u: number) => lineOf(search.find(target, drill(), 2, [{ face: "top", leanDeg: [u, 0] }])).leanDeg;
		expect(with_(1)).toEqual([1, 0]);
		expect(with_(2)).toEqual([0, 0]);
		expect(lineOf(search.find(target, drill(), 2, [{ face: "bed", leanDeg: [0, 0] }])).leanDeg).toEqual([0, 0]);
	});

	it("passes over lines that would run into a hole that is planned already", () => {
		const search = searchOn(square([0, 0, 0], 50), { aim: STEADY });
		const planned: Hole = { tip: [100, 70, 62], entry: [71, 70, 120], radius: 3.25 };
		const line = lineOf(search.find(ORIGIN, drill(), 2, [], undefined, { holes: [planned], web: 2 }));
		const hole: Hole = { tip: along([70, 70, 60], line.direction, line.stop), entry: line.entry, radius: 3.25 };
		expect(webBetween(hole, planned)).toBeGreaterThanOrEqual(2);
		expect(tiltDeg(line)).toBeGreaterThan(5);
		// A row of holes on all sides leaves no way out.
		const ring = Array.from({ length: 12 }, (_, i): Hole => {
			const [x, y] = [Math.cos(i * radians(30)), Math.sin(i * radians(30))];
			return { tip: [70 + 9 * x, 70 + 9 * y, 62], entry: [70 + 2 * x, 70 + 2 * y, 120], radius: 3.25 };
		});
		const none = undercutOf(search.find(ORIGIN, drill(), 2, [], undefined, { holes: ring, web: 2 }));
		expect(none.reason).toBe("holes");
	});

	it("asks for two drill diameters behind the floor of a thin part, and refuses the hammer there", () => {
		const plate = together(square([0, 0, 0], 50), turned(square([0, 0, -8], 50)));
		const setup = setupOf(plate);
		expect(thicknessAt(setup.index, ORIGIN)).toBeCloseTo(8, 9);
		const search = createLineSearch(setup);
		const line = lineOf(search.find(ORIGIN, drill(), 2));
		expect([line.stop, line.thin]).toEqual([expect.closeTo(4, 9), true]);
		expect(undercutOf(search.find(ORIGIN, drill({ action: "hammer" }), 6)).reason).toBe("thin");
		expect(search.reaches(ORIGIN, drill({ action: "hammer" }), 6)).toBe(false);
		expect(thicknessAt(finish(buildSurfaceIndex(square([0, 0, 0], 50))), ORIGIN)).toBeNull();
	});

	it("refuses leans past 45° and lies on faces that the stone does not have", () => {
		const refusalOf = (over: Partial<LineSearchSetup>): Refusal => {
			try {
				searchOn(square([0, 0, 0], 5), over);
			} catch (error) {
				if (error instanceof Refusal) return error;
			}
			throw new Error("not refused");
		};
		for (const [over, word] of [
			[{ leanDeg: 46 }, "46°"],
			[{ coneDeg: Number.NaN }, "45°"],
			[{ lies: [{ name: "on its nose", closedFace: "nose" }] }, "nose"],
		] as const) {
			const { code, facts } = refusalOf(over).issue;
			expect(drillingRefusals[code](facts)).toContain(word);
		}
	});
});

/** Bumpy ground with posts on it, mm, about 100 × 100; few enough triangles for slow twins. */
function roughGround(seed: number): TriangleMesh {
	const random = seededRandom(seed);
	const waves = Array.from({ length: 5 }, () => [
		random.next() * 0.12,
		random.next() * 0.12,
		random.next() * 6,
		3 * random.next(),
	]);
	const ground = patch(40, 40, (u, v) => {
		const [x, y] = [100 * u - 50, 100 * v - 50];
		return [x, y, waves.reduce((z, [p, q, r, h]) => z + h * Math.sin(p * x + q * y + r), 0)];
	});
	const posts = Array.from({ length: 9 }, () => {
		const [x, y, r] = [80 * random.next() - 40, 80 * random.next() - 40, 3 + 3 * random.next()];
		const lean = 0.8 * random.next() - 0.4;
		return patch(10, 4, (u, v) => {
			const [a, h] = [2 * Math.PI * u, 45 * v - 10];
			return [x + r * Math.cos(a) + lean * h, y + r * Math.sin(a), h];
		});
	});
	return together(ground, ...posts);
}
function targetsOn(mesh: TriangleMesh, count: number, seed: number) {
	const random = seededRandom(seed);
	return Array.from({ length: count }, () => {
		const t = random.below(mesh.triangles.length / 3);
		const [a, b, c] = [0, 1, 2].map((k): Vec3 => {
			const v = 3 * mesh.triangles[3 * t + k];
			return [mesh.positions[v], mesh.positions[v + 1], mesh.positions[v + 2]];
		});
		return {
			position: along(along(a, sub(b, a), 1 / 3), sub(c, a), 1 / 3),
			normal: unit(cross(sub(b, a), sub(c, a))),
		};
	});
}

describe.each([1, 2, 3])("against the slow twin that tries every line, seed %i", (seed) => {
	const mesh = roughGround(seed);
	const setup = setupOf(mesh, { coneDeg: 14, leanDeg: 12, lies: [{ name: "upright", closedFace: "bed" }] });
	const search = createLineSearch(setup);
	const gauge = createHoleGauge(setup.index);
	const targets = targetsOn(mesh, share(60), seed);

	/** Cosine of the least tilt of any clear line with leans in whole degrees, or 0. */
	const slow = (target: (typeof targets)[number], d: Drill, allowance: number): number => {
		const inStone = place(setup.placement, target.position);
		let best = 0;
		for (const face of setup.stone.faces) {
			if (face.name === "bed") continue;
			for (let i = -12; i <= 12; i++) {
				for (let j = -12; j <= 12; j++) {
					const direction = unit(along(along(face.normal, face.u, Math.tan(radians(i))), face.v, Math.tan(radians(j))));
					const square = dot(direction, face.normal);
					const cosine = dot(direction, target.normal);
					if (square < Math.cos(radians(12)) - 1e-9 || cosine < Math.cos(radians(14)) || cosine <= best) continue;
					const exit = exitOf(setup.stone, inStone, direction);
					if (!exit || exit.face.name !== face.name) continue;
					const others = setup.stone.faces.filter((other) => other.name !== face.name);
					if (others.some((other) => other.offset - dot(other.normal, exit.point) < d.diameter)) continue;
					if (inStone[2] + (exit.distance + 300) * direction[2] < 0) continue;
					const leanSine = Math.sqrt(1 - square * square);
					const line = { target: target.position, direction, entry: exit.distance, leanSine };
					const tilt = Math.sqrt(1 - cosine * cosine) / cosine;
					const plane = Math.max(...planeStops(d, allowance, tilt, exit.distance, leanSine));
					const stop = gauge.stopOnSurface(line, d, allowance, setup.aim);
					if (stop > plane + 2 * d.holeRadius || exit.distance - stop < 0.5 || exit.distance - plane < 0.5) continue;
					if (exit.distance - allowance + (d.chuckRadius * leanSine) / square > d.reach) continue;
					const between = setup.index.castRay(along(target.position, direction, 0.5), direction);
					if (between && between.distance + 0.5 < stop) continue;
					best = cosine;
				}
			}
		}
		return best;
	};
	const k = Math.tan(radians(1)) + 0.01;
	const planeStops = (d: Drill, allowance: number, tilt: number, entry: number, leanSine: number): number[] => {
		const seen = tilt / (1 + k * tilt);
		const r = d.holeRadius;
		return [allowance * Math.sqrt(1 + tilt * tilt) + r * tilt, seen * (r + 1 + k * entry) + leanSine];
	};

	it("finds the least tilted clear line, and none where there is none; `reaches` agrees", () => {
		let lines = 0;
		for (const target of targets) {
			const answer = search.find(target, drill(), 2, [], 1000);
			expect(isUndercut(answer) ? 0 : answer.tiltCosine).toBeCloseTo(slow(target, drill(), 2), 12);
			expect(search.reaches(target, drill(), 2, 1000)).toBe(!isUndercut(answer));
			if (!isUndercut(answer)) lines++;
		}
		expect(lines).toBeGreaterThan(0);
	});
});

describe("every line that is given", () => {
	const mesh = roughGround(9);
	const quarter = rotationFromQuaternion([1, 0, 0, 1]);
	const setup = setupOf(mesh);
	const search = createLineSearch(setup);
	const targets = targetsOn(mesh, 60, 5);
	const lines = targets.flatMap((target) => {
		const answer = search.find(target, drill(), 2);
		return isUndercut(answer) ? [] : [{ target, line: answer }];
	});

	it("holds together: exit, leans, depth, cone, clearance", () => {
		expect(lines.length).toBeGreaterThan(20);
		for (const { target, line } of lines) {
			const inStone = place(setup.placement, target.position);
			const exit = exitOf(setup.stone, inStone, line.direction)!;
			expect(exit.face).toBe(line.face);
			expect(exit.distance).toBeCloseTo(line.length, 9);
			const leans = leansOf(line.face, line.direction)!;
			expect(leans.u).toBeCloseTo(Math.tan(radians(line.leanDeg[0])), 12);
			expect(leans.v).toBeCloseTo(Math.tan(radians(line.leanDeg[1])), 12);
			expect(line.leanDeg.every((a) => Number.isInteger(2 * a))).toBe(true);
			expect(line.depth).toBeCloseTo(line.length - line.stop, 12);
			expect(line.tiltCosine).toBeCloseTo(dot(target.normal, line.direction), 12);
			expect(tiltDeg(line)).toBeLessThanOrEqual(30);
			expect(line.clearance).toBeGreaterThan(2 - 1e-7);
			expect(line.worstSpare).toBeGreaterThan(-1e-7);
			expect(line.aimSafeDeg).toBeGreaterThanOrEqual(1);
			// Nothing is given away: one of the two conditions holds the tip, unless the part is thin.
			if (!line.thin) expect(Math.min(line.clearance - 2, line.worstSpare)).toBeLessThan(1e-6);
		}
	});

	it("is the same when model and placement are turned against each other", () => {
		// A quarter turn maps coordinates to coordinates exactly, so that nothing may change at all.
		const model = {
			...mesh,
			positions: Float64Array.from(
				Array.from({ length: mesh.positions.length / 3 }, (_, v) =>
					turn(quarter, [mesh.positions[3 * v], mesh.positions[3 * v + 1], mesh.positions[3 * v + 2]]),
				).flat(),
			),
		};
		const turnedSearch = searchOn(model, {
			placement: { rotation: transpose(quarter), translation: setup.placement.translation },
		});
		for (const { target, line } of lines) {
			const other = lineOf(
				turnedSearch.find(
					{ position: turn(quarter, target.position), normal: turn(quarter, target.normal) },
					drill(),
					2,
				),
			);
			expect(other.leanDeg).toEqual(line.leanDeg);
			expect(other.stop).toBeCloseTo(line.stop, 9);
			expect(other.depth).toBeCloseTo(line.depth, 9);
		}
	});
});
