import { describe, expect, test } from "vitest";
import { seededRandom } from "../../../core/random.ts";
import { Refusal } from "../../../core/refusal.ts";
import {
	type Block,
	depthInStone,
	exitOf,
	faceCoordinates,
	faceNamed,
	leansOf,
	lineWithLeans,
	onFace,
	type Stone,
	stoneCut,
	stoneOf,
} from "../../../core/stone/block.ts";
import { add, cross, distance, dot, length, place, scale, sub, turn, unit, type Vec3 } from "../../../core/vector.ts";
import { hullOf, randomRotation } from "./shapes.ts";

const box = (x: number, y: number, z: number): Stone => stoneOf({ kind: "box", size: [x, y, z] });
const planes = (...rows: [number, number, number, number][]): Block => ({
	kind: "planes",
	planes: Float64Array.from(rows.flat()),
});
const sixPlanes = (x: number, y: number, z: number): [number, number, number, number][] => [
	[-1, 0, 0, 0],
	[1, 0, 0, x],
	[0, -1, 0, 0],
	[0, 1, 0, y],
	[0, 0, -1, 0],
	[0, 0, 1, z],
];

/** What must hold of every stone. */
function expectSound(stone: Stone): void {
	const corners: Vec3[] = [];
	for (const face of stone.faces) {
		expect(length(face.normal)).toBeCloseTo(1, 12);
		expect(length(face.u)).toBeCloseTo(1, 12);
		expect(dot(face.u, face.v)).toBeCloseTo(0, 12);
		expect(dot(face.u, face.normal)).toBeCloseTo(0, 12);
		expect(dot(face.v, face.normal)).toBeCloseTo(0, 12);
		expect(dot(face.normal, face.origin)).toBeCloseTo(face.offset, 6);
		let doubled = 0;
		for (let i = 0; i < face.outline.length; i++) {
			const p = face.outline[i];
			corners.push(p);
			expect(dot(face.normal, p)).toBeCloseTo(face.offset, 6);
			expect(depthInStone(stone, p)).toBeGreaterThan(-1e-6);
			const q = face.outline[(i + 1) % face.outline.length];
			doubled += dot(cross(sub(p, face.outline[0]), sub(q, face.outline[0])), face.normal);
		}
		// Counter-clockwise from outside.
		expect(doubled / 2).toBeCloseTo(face.area, 4);
	}
	const hull = hullOf(corners);
	expect(hull.volume / stone.volume).toBeCloseTo(1, 8);
	expect(hull.area / stone.faces.reduce((sum, f) => sum + f.area, 0)).toBeCloseTo(1, 8);
}

describe("a sawn block", () => {
	const stone = box(300, 200, 500);

	test("has its six faces in order, with u and v from the corner nearest the marked one", () => {
		expectSound(stone);
		expect(stone.volume).toBe(3e7);
		expect(stone.faces.map((f) => f.name)).toEqual(["left", "right", "front", "back", "bed", "top"]);
		const rows = stone.faces.map((f) => [f.normal, f.origin, f.u, f.v, f.area]);
		expect(rows).toEqual([
			[[-1, 0, 0], [0, 0, 0], [0, 1, 0], [0, 0, 1], 100000],
			[[1, 0, 0], [300, 0, 0], [0, 1, 0], [0, 0, 1], 100000],
			[[0, -1, 0], [0, 0, 0], [1, 0, 0], [0, 0, 1], 150000],
			[[0, 1, 0], [0, 200, 0], [1, 0, 0], [0, 0, 1], 150000],
			[[0, 0, -1], [0, 0, 0], [1, 0, 0], [0, 1, 0], 60000],
			[[0, 0, 1], [0, 0, 500], [1, 0, 0], [0, 1, 0], 60000],
		]);
	});

	test("a line leaves by the face, at the place and after the length counted off", () => {
		expect(exitOf(stone, [100, 50, 400], [0, 0, 1])).toMatchObject({ distance: 100, point: [100, 50, 500] });
		const askew = exitOf(stone, [100, 50, 400], unit([-1, 0, 0.5]))!;
		expect(askew.face.name).toBe("left");
		expect(askew.point[2]).toBeCloseTo(450, 10);
		expect(faceCoordinates(askew.face, askew.point)).toEqual({ u: 50, v: expect.closeTo(450, 10) });
		expect(exitOf(stone, [100, 250, 400], [0, 1, 0])).toBeNull();
		expect(depthInStone(stone, [100, 50, 400])).toBe(50);
		expect(depthInStone(stone, [-3, 50, 400])).toBe(-3);
	});

	test("leans are tangents, positive towards growing u and v, and lead back to the line", () => {
		const back = faceNamed(stone, "back")!;
		const line = unit([0.2, 1, -0.1]);
		const leans = leansOf(back, line)!;
		expect(leans.u).toBeCloseTo(0.2, 12);
		expect(leans.v).toBeCloseTo(-0.1, 12);
		expect(leansOf(back, [1, 0, 0])).toBeNull();
		expect(leansOf(back, [0, -1, 0])).toBeNull();
		expect(distance(lineWithLeans(back, leans.u, leans.v), line)).toBeLessThan(1e-12);
	});

	test("the same block given by planes: same volume and faces, whatever the planes' order and length", () => {
		const rows = sixPlanes(300, 200, 500).reverse();
		const given = stoneOf(planes(...rows.map((r) => r.map((x) => 7 * x) as typeof r)));
		expectSound(given);
		expect(given.volume).toBeCloseTo(3e7, 2);
		expect(given.faces.map((f) => f.name)).toEqual(["face 1", "face 2", "face 3", "face 4", "face 5", "face 6"]);
		// Face 1 is the top: origin at the corner nearest the marked one, u along its longest edge.
		expect(distance(given.faces[0].origin, [0, 0, 500])).toBeLessThan(1e-6);
		expect(distance(given.faces[0].u, [1, 0, 0])).toBeLessThan(1e-9);
		expect(distance(given.faces[0].v, [0, 1, 0])).toBeLessThan(1e-9);
	});
});

describe("an offcut", () => {
	test("a wedge: volume in closed form, origin at the lowest corner, u along the longest edge, into the face", () => {
		// Right triangle 400 × 300 in x, z; 250 deep.
		const wedge = stoneOf(planes([-1, 0, 0, 0], [0, -1, 0, 0], [0, 1, 0, 250], [0, 0, -1, 0], [3, 0, 4, 1200]));
		expectSound(wedge);
		expect(wedge.volume).toBeCloseTo((400 * 300 * 250) / 2, 3);
		const slope = wedge.faces[4];
		expect(slope.area).toBeCloseTo(500 * 250, 5);
		expect(distance(slope.origin, [400, 0, 0])).toBeLessThan(1e-6);
		expect(distance(slope.u, [-0.8, 0, 0.6])).toBeLessThan(1e-9);
		expect(distance(slope.v, [0, 1, 0])).toBeLessThan(1e-9);
	});

	test("a block with a broken corner keeps its faces' names and axes; the break is a face of its own", () => {
		// The corner at (300, 200, 500) is gone by 60, 40 and 30 along the edges.
		const corner: Vec3 = [300, 200, 500];
		const n: Vec3 = [1 / 60, 1 / 40, 1 / 30];
		const broken = stoneOf({
			kind: "broken",
			size: corner,
			planes: Float64Array.from([...n, dot(n, corner) - 1]),
		});
		expectSound(broken);
		expect(broken.volume).toBeCloseTo(3e7 - (60 * 40 * 30) / 6, 3);
		expect(broken.faces.map((f) => f.name)).toEqual(["left", "right", "front", "back", "bed", "top", "break 1"]);
		expect(broken.faces[5].outline.length).toBe(5);
		expect(broken.faces[6].outline.length).toBe(3);
		expect(broken.faces.slice(0, 6).map((f) => [f.origin, f.u, f.v])).toEqual(
			box(...corner).faces.map((f) => [f.origin, f.u, f.v]),
		);
		expect(exitOf(broken, [285, 185, 480], unit([1, 1, 1]))?.face.name).toBe("break 1");
	});

	test("seeded stones: leaving them anywhere agrees with small steps, and turning them changes no volume", () => {
		const random = seededRandom(16);
		for (let n = 0; n < 20; n++) {
			const rows: [number, number, number, number][] = [];
			const count = 7 + random.below(14);
			for (const s of [-1, 1]) {
				for (let k = 0; k < 3; k++) {
					const row: [number, number, number, number] = [0, 0, 0, 120 + 60 * random.next()];
					row[k] = s;
					rows.push(row);
				}
			}
			while (rows.length < count) {
				const d = unit([random.normal(), random.normal(), random.normal()]);
				rows.push([...d, 100 + 60 * random.next()]);
			}
			const stone = stoneOf(planes(...rows));
			expectSound(stone);
			const start: Vec3 = [40 * random.next(), 40 * random.next(), 40 * random.next()];
			const direction = unit([random.normal(), random.normal(), random.normal()]);
			const exit = exitOf(stone, start, direction)!;
			let stepped = 0;
			while (depthInStone(stone, add(start, scale(direction, stepped + 0.01))) > 0) stepped += 0.01;
			expect(Math.abs(exit.distance - stepped)).toBeLessThan(0.011);
			const { u, v } = faceCoordinates(exit.face, exit.point);
			expect(distance(onFace(exit.face, u, v), exit.point)).toBeLessThan(1e-8);
			const rotation = randomRotation(random);
			const shift: Vec3 = [10, -20, 30];
			const moved = rows.map(([x, y, z, b]): [number, number, number, number] => {
				const m = turn(rotation, [x, y, z]);
				return [...m, b + dot(m, shift)];
			});
			const other = stoneOf(planes(...moved));
			expect(other.volume / stone.volume).toBeCloseTo(1, 9);
			const p = place({ rotation, translation: shift }, start);
			expect(depthInStone(other, p)).toBeCloseTo(depthInStone(stone, start), 8);
		}
	});

	test("planes that are doubled, touch a corner only or lie outside change nothing", () => {
		const plain = stoneOf(planes(...sixPlanes(300, 200, 500)));
		const n = 1 / Math.sqrt(3);
		const more = stoneOf(
			planes(
				...sixPlanes(300, 200, 500),
				[0, 0, 1, 500],
				[0, 0, 2, 1200],
				[n, n, n, n * 1000],
				[-n, -n, 0, 0],
				[-1, 0, 0, 99],
			),
		);
		expectSound(more);
		expect(more.faces.length).toBe(6);
		expect(more.volume).toBeCloseTo(plain.volume, 4);
	});
});

describe("what is no stone", () => {
	const code = (block: Block): string => {
		try {
			stoneOf(block);
		} catch (error) {
			if (error instanceof Refusal) return error.issue.code;
			throw error;
		}
		return "none";
	};
	test("is refused", () => {
		expect(code({ kind: "box", size: [100, -1, 100] })).toBe("stone.side");
		expect(code({ kind: "broken", size: [100, 100, 0], planes: new Float64Array() })).toBe("stone.side");
		expect(code(planes(...sixPlanes(1, 1, 1).slice(0, 5)))).toBe("stone.openStone");
		expect(code(planes([0, 0, 0, 1], ...sixPlanes(1, 1, 1)))).toBe("stone.openStone");
		expect(code(planes([1, 0, 0, Number.NaN], ...sixPlanes(1, 1, 1)))).toBe("stone.openStone");
		expect(code(planes(...sixPlanes(1, 1, 1), [0, 0, 1, -5]))).toBe("stone.emptyStone");
		expect(code(planes())).toBe("stone.emptyStone");
	});
});

test("on no face that a plane leaves is u or v negative; the origin is a corner wherever one is sharp enough", () => {
	const random = seededRandom(77);
	let corners = 0;
	let all = 0;
	for (let k = 0; k < 120; k++) {
		const cuts = Array.from({ length: 1 + random.below(4) }, (_, i) => {
			const normal = unit([random.normal(), random.normal(), random.normal()]);
			const near: Vec3 = [400, 300, 500].map((side) => side * (0.5 + 0.35 * (random.next() - 0.5))) as unknown as Vec3;
			return { name: `cut ${i + 1}`, normal, offset: dot(normal, near) + 60 };
		});
		const left = stoneCut(stoneOf({ kind: "box", size: [400, 300, 500] }), cuts);
		for (const face of left.faces.filter(({ name }) => name.startsWith("cut"))) {
			const places = face.outline.map((at) => faceCoordinates(face, at));
			expect(Math.min(...places.map(({ u }) => u))).toBeGreaterThan(-2e-6);
			expect(Math.min(...places.map(({ v }) => v))).toBeGreaterThan(-2e-6);
			// An edge of the face lies along u, and the nearest corner touches both axes where one stands.
			expect(places.filter(({ v }) => Math.abs(v) < 1e-6).length).toBeGreaterThanOrEqual(2);
			expect(places.some(({ u }) => Math.abs(u) < 1e-6)).toBe(true);
			expect(Math.abs(dot(face.u, face.v)) + Math.abs(dot(face.u, face.normal))).toBeLessThan(1e-12);
			// Twin: a corner of 90° or less lets both axes start at it.
			const n = face.outline.length;
			const sharp = face.outline.some(
				(at, i) => dot(sub(face.outline[(i + 1) % n], at), sub(face.outline[(i + n - 1) % n], at)) >= 1e-6,
			);
			const stands = face.outline.some((at) => distance(at, face.origin) < 1e-6);
			if (sharp) expect(stands).toBe(true);
			all++;
			if (stands) corners++;
		}
	}
	expect(all).toBeGreaterThan(100);
	expect(corners).toBeGreaterThan(50);
});
