import { describe, expect, it } from "vitest";
import { chooseLies, weighLies } from "../../../core/drilling/chooseLies.ts";
import { aimOf, drillOf } from "../../../core/drilling/drill.ts";
import { facesToLieOn, lieOn } from "../../../core/drilling/lies.ts";
import { createLineSearch } from "../../../core/drilling/lineSearch.ts";
import { finish } from "../../../core/job.ts";
import { toolSchema } from "../../../core/plan/commission.ts";
import { stoneOf } from "../../../core/stone/block.ts";
import { buildSurfaceIndex } from "../../../core/surface/surfaceIndex.ts";
import { IDENTITY, type Mat3, turn, unit, type Vec3 } from "../../../core/vector.ts";
import { patch } from "../../support/groundMesh.ts";

const RADIUS = 40;
const onSphere = (u: number, v: number): Vec3 => {
	const [a, b] = [2 * Math.PI * u, Math.PI * (v - 0.5)];
	return [RADIUS * Math.cos(a) * Math.cos(b), RADIUS * Math.sin(a) * Math.cos(b), RADIUS * Math.sin(b)];
};
const ball = patch(48, 24, onSphere);
const setup = {
	index: finish(buildSurfaceIndex(ball)),
	stone: stoneOf({ kind: "box", size: [140, 140, 140] }),
	placement: { rotation: IDENTITY, translation: [70, 70, 70] as Vec3 },
	coneDeg: 30,
	leanDeg: 25,
	outsideMm: 300,
	aim: aimOf("faces"),
};
const targets = Array.from({ length: 200 }, (_, i) => {
	const z = 1 - (2 * (i + 0.5)) / 200;
	const normal: Vec3 = [
		Math.sqrt(1 - z * z) * Math.cos(i * 2.399963229728653),
		Math.sqrt(1 - z * z) * Math.sin(i * 2.399963229728653),
		z,
	];
	const hit = setup.index.castRay([0, 0, 0], unit(normal))!;
	return { position: normal.map((c) => c * hit.distance) as unknown as Vec3, normal };
});
const drill = drillOf(toolSchema.parse({}));

describe("the names of lies", () => {
	const block = stoneOf({ kind: "box", size: [400, 300, 200] });
	const named = (rotation: Mat3): Record<string, string> =>
		Object.fromEntries(block.faces.map((face) => [face.name, lieOn(face, rotation).name]));

	it("say what a figure does that stands in its block and looks out of the front: its proper left is at the right", () => {
		expect(named(IDENTITY)).toEqual({
			bed: "upright",
			top: "on its head",
			front: "on its face",
			back: "on its back",
			left: "on its proper right side",
			right: "on its proper left side",
		});
	});

	it("follow a figure laid down in its block, head to the right and looking up", () => {
		// Model z along the block's x, model −y along its z.
		const laid: Mat3 = [0, 0, 1, 1, 0, 0, 0, -1, 0];
		expect(turn(laid, [0, 0, 1])).toEqual([1, 0, 0]);
		expect(turn(laid, [0, -1, 0])).toEqual([0, 0, 1]);
		const names = named(laid);
		expect([names.left, names.right, names.bed, names.top]).toEqual([
			"upright",
			"on its head",
			"on its back",
			"on its face",
		]);
	});

	it("leave out a broken edge, on which no stone lies", () => {
		const broken = stoneOf({ kind: "broken", size: [400, 300, 200], planes: Float64Array.from([1, 0, 1, 550]) });
		expect(broken.faces.length).toBe(7);
		const faces = facesToLieOn(broken).map((face) => face.name);
		expect(faces).toEqual(broken.faces.map((face) => face.name).filter((name) => name !== "break 1"));
	});
});

describe("the choice of lies", () => {
	it("begins with the face that the foot looks at, however the figure lies in its block", () => {
		const laid: Mat3 = [0, 0, 1, 1, 0, 0, 0, -1, 0];
		const down = { ...setup, placement: { rotation: laid, translation: [70, 70, 70] as Vec3 } };
		const { lies } = finish(chooseLies(down, targets, drill, 2, true));
		expect(lies[0]).toEqual({ name: "upright", closedFace: "left" });
	});

	it("weighs the carver's own lies by the same targets", () => {
		const chosen = finish(chooseLies(setup, targets, drill, 2, true));
		expect(finish(weighLies(setup, chosen.lies, targets, drill, 2))).toEqual(chosen);
	});

	it("stands a ball upright, then lays it down once for what looked at the banker", () => {
		const { lies, reached } = finish(chooseLies(setup, targets, drill, 2, true));
		expect(lies[0]).toEqual({ name: "upright", closedFace: "bed" });
		expect(lies.length).toBe(2);
		expect(reached[0]).toBeGreaterThan(0.5);
		expect(reached[1]).toBeGreaterThan(0.95);
	});

	it("says truly what is reached", () => {
		const { lies, reached } = finish(chooseLies(setup, targets, drill, 2, false));
		expect(lies[0].closedFace).toBe("back");
		lies.forEach((_, n) => {
			const search = createLineSearch({ ...setup, lies: lies.slice(0, n + 1) });
			const count = targets.filter((target) => search.reaches(target, drill, 2)).length;
			expect(reached[n]).toBeCloseTo(count / targets.length, 12);
		});
	});
});
