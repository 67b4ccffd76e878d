/** How the stone lies while it is drilled: the carver's lies or the proposed ones, with what they reach. */

import { type ChosenLies, chooseLies, weighLies } from "../../drilling/chooseLies.ts";
import { aimOf, drillOf, placingAllowances } from "../../drilling/drill.ts";
import type { DrillTarget } from "../../drilling/drillLine.ts";
import type { Job } from "../../job.ts";
import { seededRandom } from "../../random.ts";
import { Refusal } from "../../refusal.ts";
import type { ModelAnswer, StoneAnswer } from "../answers.ts";
import type { Commission } from "../commission.ts";
import { choice, type Graph } from "../graph.ts";
import { transferOf } from "../transfer.ts";
import type { SurfaceParts } from "./surfaceStages.ts";

/** Places that stand for the figure; at that many, a share is right to about three in a hundred. */
const TARGETS = 240;
const SEED = 31;

export function* lieStage(
	graph: Graph,
	model: ModelAnswer,
	surface: SurfaceParts,
	{ stone, fit }: StoneAnswer,
	commission: Commission,
): Job<ChosenLies> {
	const { lines, aim, lies, rounds, holes } = commission;
	const transfer = transferOf(commission);
	const { tool } = rounds[rounds.length - 1];
	const allowance = placingAllowances(rounds, holes)[rounds.length - 1];
	return yield* graph.stage(
		"lies",
		[
			model,
			surface.index,
			surface.field,
			stone,
			fit,
			choice([model.closed, lies, lines, aim, transfer, tool, allowance]),
		],
		() => {
			const setup = {
				index: surface.index,
				stone,
				placement: fit.placement,
				coneDeg: lines.cone_deg,
				leanDeg: lines.lean_deg,
				outsideMm: lines.outside_mm,
				aim: aimOf(transfer, aim),
			};
			const targets = spreadTargets(model, surface.field.normals);
			return lies.length > 0
				? weighLies(setup, lies, targets, drillOf(tool), allowance)
				: chooseLies(setup, targets, drillOf(tool), allowance, isFigure(model));
		},
	);
}

/** A figure stands; a shell, backed or not, is a relief. */
const isFigure = ({ closed, mesh, firstAddedTriangle }: ModelAnswer): boolean =>
	closed && 3 * firstAddedTriangle >= mesh.triangles.length;

/** Corners of triangles chosen by area, seeded, on the scan itself and not on its backing. */
function spreadTargets({ mesh, firstAddedTriangle }: ModelAnswer, normals: Float64Array): DrillTarget[] {
	const { positions: p, triangles } = mesh;
	const own = firstAddedTriangle ?? triangles.length / 3;
	const upTo = new Float64Array(own);
	let sum = 0;
	for (let t = 0; t < own; t++) {
		const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
		const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
		const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
		const [x, y, z] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
		sum += Math.sqrt(x * x + y * y + z * z);
		upTo[t] = sum;
	}
	if (!(sum > 0)) throw new Refusal("pointing.noGround", { triangles: own });
	const random = seededRandom(SEED);
	return Array.from({ length: TARGETS }, () => {
		const area = random.next() * sum;
		let [low, high] = [0, own - 1];
		while (low < high) {
			const middle = (low + high) >> 1;
			if (upTo[middle] > area) high = middle;
			else low = middle + 1;
		}
		const v = 3 * triangles[3 * low];
		return { position: [p[v], p[v + 1], p[v + 2]], normal: [normals[v], normals[v + 1], normals[v + 2]] };
	});
}
