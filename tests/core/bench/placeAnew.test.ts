import highsLoader from "highs";
import { beforeAll, describe, expect, it } from "vitest";
import { type PlacedAnew, placeAnew } from "../../../core/bench/placeAnew.ts";
import type { LeftPlane, LeftTarget, Remains } from "../../../core/bench/remains.ts";
import { finish } from "../../../core/job.ts";
import { type Random, seededRandom } from "../../../core/random.ts";
import {
	add,
	along,
	cross,
	distance,
	dot,
	IDENTITY,
	length,
	type Mat3,
	rotationFromQuaternion,
	scale,
	sub,
	turn,
	unit,
	type Vec3,
} from "../../../core/vector.ts";
import { share } from "../../support/prove.ts";
import { anyWay } from "./head.ts";

const NO_BODY = new Float64Array();

/** Targets all round a lumpy egg, 160 × 200 × 300 mm, in the middle of a stone. */
function eggTargets(random: Random, count = 80): LeftTarget[] {
	return Array.from({ length: count }, () => {
		const [x, y, z] = anyWay(random);
		const lump = 1 + 0.08 * random.normal();
		const normal = unit([
			x / 80 + 0.002 * random.normal(),
			y / 100 + 0.002 * random.normal(),
			z / 150 + 0.002 * random.normal(),
		]);
		const at: Vec3 = [200 + 80 * lump * x, 180 + 100 * lump * y, 210 + 150 * lump * z];
		return { at, normal, allowance: 2 + 4 * random.next(), over: null, drilled: false };
	});
}

interface Motion {
	readonly rotation: Mat3;
	readonly shift: Vec3;
	readonly scale: number;
}
const MIDDLE: Vec3 = [200, 180, 210];
const carry = ({ rotation, shift, scale: s }: Motion, at: Vec3): Vec3 =>
	add(add(MIDDLE, shift), scale(turn(rotation, sub(at, MIDDLE)), s));

function smallMotion(random: Random, mm: number, radians: number): Motion {
	const axis = scale(anyWay(random), radians / 2);
	return { rotation: rotationFromQuaternion([...axis, 1]), shift: scale(anyWay(random), mm), scale: 1 };
}

/** The stone's surface as a motion of the figure would leave it: each target's allowance over it, and `more` on top. */
const leftFor = (targets: readonly LeftTarget[], m: Motion, more: (i: number) => number): LeftTarget[] =>
	targets.map((t, i) => ({
		...t,
		over: along(carry(m, t.at), turn(m.rotation, t.normal), t.allowance + more(i)),
		drilled: true,
	}));

const found = (remains: Remains, options = {}): PlacedAnew => finish(placeAnew(remains, options));
const put = ({ motion, scale: s }: PlacedAnew, at: Vec3): Vec3 =>
	add(scale(turn(motion.rotation, at), s), motion.translation);

/** Stone to spare at every limit, worked out anew from the meaning of the answer. */
function sparesOf({ targets, planes, body }: Remains, answer: PlacedAnew): number[] {
	const spares: number[] = [];
	for (const t of targets) {
		const at = put(answer, t.at);
		if (t.over) spares.push(dot(turn(answer.motion.rotation, t.normal), sub(t.over, at)) - t.allowance);
		for (const { normal, offset } of planes) spares.push(offset - t.allowance - dot(normal, at));
	}
	for (let i = 0; i < body.length; i += 3)
		for (const { normal, offset } of planes)
			spares.push(offset - dot(normal, put(answer, [body[i], body[i + 1], body[i + 2]])));
	return spares;
}

describe("placing anew, by hand", () => {
	const at = (x: number, y: number, z: number, normal: Vec3): LeftTarget => ({
		at: [x, y, z],
		normal,
		allowance: 2,
		over: null,
		drilled: false,
	});
	/** Four targets on each side of a cube of 20 mm, so that no small turn spares one side. */
	const cube: LeftTarget[] = [0, 1, 2].flatMap((axis) =>
		[1, -1].flatMap((sign) =>
			[-8, 8].flatMap((p) =>
				[-8, 8].map((q) => {
					const [along, u, v] = [axis, (axis + 1) % 3, (axis + 2) % 3];
					const place = [50, 50, 50];
					const normal = [0, 0, 0];
					place[along] += 10 * sign;
					place[u] += p;
					place[v] += q;
					normal[along] = sign;
					return at(place[0], place[1], place[2], normal as unknown as Vec3);
				}),
			),
		),
	);
	const face = (name: string, normal: Vec3, offset: number): LeftPlane => ({ name, normal, offset });
	const stone = [
		face("right", [1, 0, 0], 80),
		face("left", [-1, 0, 0], -20),
		face("back", [0, 1, 0], 80),
		face("front", [0, -1, 0], -20),
		face("top", [0, 0, 1], 80),
		face("bed", [0, 0, -1], -20),
	];

	it("stays where it is while nothing is lacking", () => {
		const answer = found({ targets: cube, planes: stone, body: NO_BODY });
		expect([answer.answer, answer.carried, answer.breaches]).toEqual(["stays", 0, []]);
		expect(answer.spare).toBeCloseTo(18, 9);
	});

	it("moves by just as much as a break asks for", () => {
		const broken = [...stone, face("break", [1, 0, 0], 55)];
		const answer = found({ targets: cube, planes: broken, body: NO_BODY });
		expect(answer.answer).toBe("moves");
		expect(answer.carried).toBeCloseTo(7, 2);
		expect(distance(put(answer, [50, 50, 50]), [43, 50, 50])).toBeLessThan(0.05);
	});

	it("says where and by how much stone is lacking when it is thinner than the figure", () => {
		const thin = [...stone, face("break", [1, 0, 0], 55), face("other break", [-1, 0, 0], -35)];
		const answer = found({ targets: cube, planes: thin, body: NO_BODY });
		expect(answer.answer).toBe("breach");
		// 24 mm are wanted and 20 mm left: 2 mm lack on either side.
		expect(answer.spare).toBeCloseTo(-2, 2);
		for (const breach of answer.breaches) expect(breach.plane).toBeGreaterThanOrEqual(6);
	});

	it("is reduced by no more than it must be, and only when that is allowed", () => {
		// Corners as well, so that no turn helps.
		const corners = [40, 60].flatMap((x) => [40, 60].flatMap((y) => [40, 60].flatMap((z) => [x, y, z])));
		const thin = [...stone, face("break", [1, 0, 0], 59), face("other break", [-1, 0, 0], -41)];
		const remains = {
			targets: cube.map((t) => ({ ...t, allowance: 0 })),
			planes: thin,
			body: Float64Array.from(corners),
		};
		expect(found(remains).answer).toBe("breach");
		const answer = found(remains, { leastScale: 0.8 });
		expect(answer.answer).toBe("moves and is reduced");
		expect(answer.scale).toBeCloseTo(0.9, 3);
	});

	it("answers a client's wish, and lists the holes that are then too deep", () => {
		const sunk = cube.map((t) => ({ ...t, over: along(t.at, t.normal, 3), drilled: true }));
		const answer = found({ targets: sunk, planes: stone, body: NO_BODY }, { wish: [0, 0, -10] });
		expect(answer.tooDeep.before).toEqual([]);
		// Holes at the top and bottom hold it to within 1 mm either way; a figure 10 mm lower is not to be had.
		expect(Math.abs(put(answer, [50, 50, 50])[2] - 50)).toBeLessThan(1.2);
		const forced = found({ targets: sunk, planes: stone, body: NO_BODY }, { wish: [0, 0, -10], farthest: 0 });
		expect(forced.answer).toBe("breach");
		expect(forced.tooDeep.after.map((d) => [d.target, Math.round(d.by)])).toEqual(
			[20, 21, 22, 23].map((target) => [target, 9]),
		);
	});

	it("refuses planes without a direction and a plan without targets", () => {
		expect(() => found({ targets: [], planes: stone, body: NO_BODY })).toThrowError(/bench\.noTargets/);
		expect(() => found({ targets: cube, planes: [face("bent", [0, 0, 0], 1)], body: NO_BODY })).toThrowError(
			/bench\.limits/,
		);
	});
});

describe("placing anew: seeded cases with a known motion", () => {
	it("finds the only motion that is feasible, to 0.1 mm at every target, seeds 1 to 100", () => {
		for (let seed = 1; seed <= share(100); seed++) {
			const random = seededRandom(seed);
			const targets = eggTargets(random);
			const known = smallMotion(random, 12 * random.next(), 0.06 * random.next());
			const remains = { targets: leftFor(targets, known, () => 0), planes: [], body: NO_BODY };
			const answer = found(remains);
			for (const t of targets) expect(distance(put(answer, t.at), carry(known, t.at))).toBeLessThan(0.1);
			expect(answer.answer).toBe("moves");
		}
	});

	it("keeps every target, and moves no farther than a known motion that does, seeds 1 to 100", () => {
		for (let seed = 1; seed <= share(100); seed++) {
			const random = seededRandom(1000 + seed);
			const targets = eggTargets(random);
			const known = smallMotion(random, 10 * random.next(), 0.05 * random.next());
			const slack = targets.map(() => 3 * random.next());
			// A break cut flat some millimetres over the figure where the known motion puts it.
			const normal = anyWay(random);
			const need = Math.max(...targets.map((t) => dot(normal, carry(known, t.at)) + t.allowance));
			const planes: LeftPlane[] = [{ name: "break", normal, offset: need + random.next() }];
			const remains = { targets: leftFor(targets, known, (i) => slack[i]), planes, body: NO_BODY };
			const answer = found(remains);
			expect(Math.min(...sparesOf(remains, answer))).toBeGreaterThan(-0.1);
			const corners = [-1, 1].flatMap((x) => [-1, 1].flatMap((y) => [-1, 1].map((z): Vec3 => [x, y, z])));
			const spread = Math.max(...targets.map((t) => distance(t.at, MIDDLE)));
			const far = (to: (p: Vec3) => Vec3): number =>
				[0, 1, 2].reduce((sum, axis) => {
					const carried = corners.map((c) => along(MIDDLE, c, 0.6 * spread)).map((p) => sub(to(p), p)[axis]);
					return sum + Math.max(...carried.map(Math.abs));
				}, 0);
			expect(far((p) => put(answer, p))).toBeLessThan(far((p) => carry(known, p)) + 0.1);
		}
	});
});

describe("placing anew: where no motion keeps every target", () => {
	let highs: Awaited<ReturnType<typeof highsLoader>>;
	beforeAll(async () => {
		highs = await highsLoader();
	});

	/** Max g with slack + slope·y ≥ g, |y| ≤ step, as text for the library. */
	function leastBreach(
		slack: readonly number[],
		slope: readonly (readonly number[])[],
		step: number,
	): { g: number; y: number[] } {
		const term = (c: number, name: string): string => `${c < 0 ? "-" : "+"} ${Math.abs(c).toFixed(15)} ${name}`;
		const rows = slack.map(
			(s, k) => `c${k}: ${slope[k].map((c, j) => term(-c, `y${j}`)).join(" ")} + 1 g <= ${s.toFixed(12)}`,
		);
		const names = slope[0].map((_, j) => `y${j}`);
		const text = `Maximize\nobj: g\nSubject To\n${rows.join("\n")}\nBounds\n${names.map((n) => `-${step} <= ${n} <= ${step}`).join("\n")}\ng free\nEnd`;
		const solved = highs.solve(text);
		return { g: solved.ObjectiveValue, y: names.map((n) => (solved.Columns[n] as { Primal: number }).Primal) };
	}

	/** The same question by the library alone, its slopes taken by differences. */
	function outside(remains: Remains): number {
		const at = (y: readonly number[]): PlacedAnew => {
			const axis: Vec3 = [y[3] / 150, y[4] / 150, y[5] / 150];
			const angle = length(axis);
			const [c, s] = [Math.cos(angle), Math.sin(angle)];
			const k = angle > 0 ? scale(axis, 1 / angle) : ([1, 0, 0] as Vec3);
			// Rodrigues, column by column.
			const column = (e: Vec3): Vec3 => add(add(scale(e, c), scale(cross(k, e), s)), scale(k, dot(k, e) * (1 - c)));
			const [x, yy, z] = [column([1, 0, 0]), column([0, 1, 0]), column([0, 0, 1])];
			const rotation: Mat3 = [x[0], yy[0], z[0], x[1], yy[1], z[1], x[2], yy[2], z[2]];
			const shift: Vec3 = [y[0], y[1], y[2]];
			const translation = sub(add(MIDDLE, shift), turn(rotation, MIDDLE));
			return { motion: { rotation, translation }, scale: 1 } as PlacedAnew;
		};
		let y = [0, 0, 0, 0, 0, 0];
		let best = Math.min(...sparesOf(remains, at(y)));
		let step = 5;
		for (let k = 0; k < 40 && step > 1e-3; k++) {
			const slack = sparesOf(remains, at(y));
			const slopes = y.map((_, j) => {
				const there = sparesOf(remains, at(y.map((v, i) => (i === j ? v + 1e-4 : v))));
				const back = sparesOf(remains, at(y.map((v, i) => (i === j ? v - 1e-4 : v))));
				return there.map((v, i) => (v - back[i]) / 2e-4);
			});
			const next = leastBreach(
				slack,
				slack.map((_, i) => slopes.map((s) => s[i])),
				step,
			);
			const moved = y.map((v, j) => v + next.y[j]);
			const value = Math.min(...sparesOf(remains, at(moved)));
			if (value > best + 1e-6) {
				y = moved;
				best = value;
			} else step /= 4;
		}
		return best;
	}

	it("reports the least breach that an independent linear programme finds, seeds 1 to 100", () => {
		for (let seed = 1; seed <= share(100); seed++) {
			const random = seededRandom(2000 + seed);
			const targets = eggTargets(random, 40);
			const known = smallMotion(random, 8 * random.next(), 0.04 * random.next());
			// A third of the holes are up to 6 mm too deep, whatever is done.
			const left = leftFor(targets, known, () => (random.next() < 0.33 ? -6 * random.next() : random.next()));
			const normal = anyWay(random);
			const need = Math.max(...targets.map((t) => dot(normal, carry(known, t.at)) + t.allowance));
			const remains = {
				targets: left,
				planes: [{ name: "break", normal, offset: need - 4 * random.next() }],
				body: NO_BODY,
			};
			const answer = found(remains);
			const spares = sparesOf(remains, answer);
			expect(Math.min(...spares)).toBeCloseTo(answer.spare, 6);
			const least = outside(remains);
			expect(least).toBeLessThan(0);
			expect(answer.answer).toBe("breach");
			expect(Math.abs(answer.spare - least)).toBeLessThan(0.01);
			expect(answer.breaches).toHaveLength(spares.filter((s) => s < -1e-3).length);
			expect(answer.motion.rotation).not.toEqual(IDENTITY);
		}
	});
});
