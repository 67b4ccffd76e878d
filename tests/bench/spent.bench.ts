/** Points against a mesh simplifier: our count over its vertices at an equal 99.9 % area quantile of the distance to the join. */

import { MeshoptSimplifier } from "meshoptimizer";
import { finish } from "../../core/job.ts";
import { placeRounds } from "../../core/pointing/rounds.ts";
import { dragon, everywhere, groundOf, net } from "../core/pointing/grounds.ts";
import { sphere } from "../support/shapes.ts";
import type { Finding } from "./harness.ts";
import { joinOf, placesByArea, quantile, simplifiedTo } from "./spent.ts";

const AIM = 1.5;

export default async function spentBench(): Promise<Iterable<Finding>> {
	await MeshoptSimplifier.ready;
	return findings();
}

function* findings(): Iterable<Finding> {
	const figures = [
		["sphere R 80", sphere(80, { edge: 1.5 }).mesh],
		["dragon, 47,794 triangles", dragon(3)],
	] as const;
	for (const [name, mesh] of figures) {
		const ground = groundOf(mesh);
		const places = placesByArea(mesh);
		for (const join of [6, 3.5]) {
			const { points } = finish(placeRounds(ground, [net(join)], [], everywhere));
			const ours = joinOf(mesh, ground.adjacency, ground.field.normals, points);
			const near = quantile(places, ours.positions, ours.triangles);
			const theirs = simplifiedTo(mesh, places, near);
			const ratio = points.length / theirs.vertices;
			yield {
				line: `${name}, one net at ${join} mm: ${points.length} points ÷ ${theirs.vertices} vertices of meshoptimizer, both within ${near.toFixed(2)} mm of 99.9 %: ${ratio.toFixed(2)}  aim ≤ ${AIM}${ratio <= AIM ? "" : "  MISSED"}`,
			};
		}
	}
}
