import { describe, expect, it } from "vitest";
import { principalCurvatures } from "../../../core/curvature/principalCurvatures.ts";
import { datumPlaces } from "../../../core/datum/datumPlaces.ts";
import { type DatumInput, datumSetsFor } from "../../../core/datum/datumSets.ts";
import { seatFor } from "../../../core/datum/seat.ts";
import { chainErrorAt, type SeatErrorForm, seatErrorForm, type Triangle } from "../../../core/datum/seatError.ts";
import { createHoleGauge } from "../../../core/drilling/holeGauge.ts";
import { thicknessAt } from "../../../core/drilling/thickness.ts";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { stoneOf } from "../../../core/stone/block.ts";
import { convexHull } from "../../../core/stone/hull.ts";
import { buildAdjacency } from "../../../core/surface/adjacency.ts";
import { buildSurfaceIndex } from "../../../core/surface/surfaceIndex.ts";
import { distance, IDENTITY, type Vec3 } from "../../../core/vector.ts";
import { eggMesh } from "../../renderer/egg.ts";
import { demoPlan, seedNames } from "../../support/demoPlans.ts";
import { proving } from "../../support/prove.ts";

/** A figure square in the middle of its stone, upright. */
function inputOf(mesh: TriangleMesh, span: number, arm: number): DatumInput {
	const adjacency = buildAdjacency(mesh);
	const index = finish(buildSurfaceIndex(mesh));
	const low = [0, 1, 2].map((k) => mesh.positions.reduce((m, x, i) => (i % 3 === k ? Math.min(m, x) : m), Infinity));
	const high = [0, 1, 2].map((k) => mesh.positions.reduce((m, x, i) => (i % 3 === k ? Math.max(m, x) : m), -Infinity));
	const size = high.map((h, k) => h - low[k] + 60) as unknown as Vec3;
	return {
		chosen: [],
		mesh,
		field: finish(principalCurvatures(mesh, adjacency, 3)),
		barred: adjacency.onRim,
		corners: finish(convexHull(mesh.positions)).vertices,
		stone: stoneOf({ kind: "box", size }),
		placement: { rotation: IDENTITY, translation: low.map((l) => 30 - l) as unknown as Vec3 },
		gauge: createHoleGauge(index),
		index,
		closedFaces: new Set(["bed", "back"]),
		stud: 20,
		span,
		arm,
		seatError: 0.5,
	};
}

/** Tops of studs at all places that can hold a seat, found anew. */
function topsOf({ mesh, field, barred, stone, placement, gauge, index, closedFaces, stud }: DatumInput): Vec3[] {
	return datumPlaces(mesh, field, barred).flatMap((place) => {
		const behind = thicknessAt(index, place);
		const seat = seatFor(place, stud, stone, placement, gauge, closedFaces);
		return seat !== null && (behind === null || behind >= 30) ? [seat.onModel] : [];
	});
}

const reached = (form: SeatErrorForm, { corners, arm }: DatumInput): Vec3[] => {
	const list: Vec3[] = [];
	for (let i = 0; i < corners.length; i += 3) {
		const at: Vec3 = [corners[i], corners[i + 1], corners[i + 2]];
		if (distance(at, form.centroid) <= arm) list.push(at);
	}
	return list;
};

const worst = (form: SeatErrorForm, input: DatumInput): number =>
	Math.max(0, ...reached(form, input).map((at) => chainErrorAt([form], 0.5, at)));

const figures: readonly (readonly [string, () => TriangleMesh])[] = [
	["egg", () => eggMesh(7)],
	...(proving ? seedNames.map((name) => [name, () => demoPlan(name).answers.model?.mesh ?? eggMesh(7)] as const) : []),
];

describe.each(figures)("datums suggested on the %s, of 2,000 random admissible triangles", (_, make) => {
	it.each([
		[450, Number.POSITIVE_INFINITY],
		[200, 190],
	])("with a span of %d mm and an arm of %d mm", (span, arm) => {
		const input = inputOf(make(), span, arm);
		const [set] = finish(datumSetsFor(input));
		const tops = topsOf(input);
		const triangle = set.seats.map((seat) => seat.onModel) as unknown as Triangle;
		const [a, b, c] = triangle;
		expect(Math.max(distance(a, b), distance(b, c), distance(c, a))).toBeLessThanOrEqual(span);
		const found = set.forms[0];
		const random = seededRandom(8);
		let best = Number.POSITIVE_INFINITY;
		let most = 0;
		const drawn: { readonly form: SeatErrorForm; readonly reaches: number }[] = [];
		for (let tries = 0; drawn.length < 2000 && tries < 200_000; tries++) {
			const [p, q, r] = [0, 1, 2].map(() => tops[random.below(tops.length)]);
			if (Math.max(distance(p, q), distance(q, r), distance(r, p)) > span) continue;
			const form = seatErrorForm([p, q, r]);
			if (form === null) continue;
			const reaches = reached(form, input).length;
			most = Math.max(most, reaches);
			drawn.push({ form, reaches });
		}
		const own = reached(found, input).length;
		expect(own).toBeGreaterThanOrEqual(most);
		for (const { form, reaches } of drawn) if (reaches >= own) best = Math.min(best, worst(form, input));
		console.info(
			`worst seat error ${worst(found, input).toFixed(3)} mm, best of ${drawn.length} at random ${best.toFixed(3)} mm`,
		);
		expect(worst(found, input)).toBeLessThanOrEqual(1.05 * best);
	});
});
