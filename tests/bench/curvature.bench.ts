/** Curvature of a great scan, in multiples of three-mesh-bvh's build of the same mesh. */

import { type CurvatureField, principalCurvatures } from "../../core/curvature/principalCurvatures.ts";
import { finish } from "../../core/job.ts";
import { buildAdjacency } from "../../core/surface/adjacency.ts";
import { type Shape, torus } from "../support/shapes.ts";
import type { Comparison } from "./harness.ts";
import { libraryTree } from "./inputs.ts";

/** The tube bulges by 1/60 per mm; nowhere may the field be off by more than this share of it. */
const WORST = 0.02;

/** Both curvatures of every vertex against the closed form. */
function check(field: CurvatureField, { k1, k2 }: Shape): void {
	for (const [found, wanted, name] of [
		[field.k1, k1, "k1"],
		[field.k2, k2, "k2"],
	] as const) {
		let worst = 0;
		for (let v = 0; v < wanted.length; v++) worst = Math.max(worst, Math.abs(found[v] - wanted[v]));
		if (!(worst * 60 < WORST)) throw new Error(`${name} is off by ${(worst * 60).toFixed(3)} of the tube's`);
	}
}

export default function* curvatureBench(): Iterable<Comparison> {
	const shape = torus(150, 60, { edge: 0.716, seed: 4 });
	const { mesh } = shape;
	const million = `${(mesh.triangles.length / 3e6).toFixed(2)} million triangles`;
	const adjacency = buildAdjacency(mesh);
	yield {
		name: `neighbours of a ring, ${million}`,
		against: "three-mesh-bvh MeshBVH",
		aim: null,
		ours: () => buildAdjacency(mesh),
		theirs: () => libraryTree(mesh),
		agree: (ours) => {
			// Around a ring there are three edges to each vertex, every one of them seen from both ends, and no rim.
			const { neighbourList, onRim } = ours as typeof adjacency;
			if (neighbourList.length !== 2 * mesh.positions.length || onRim.includes(1)) throw new Error("not a ring");
		},
	};
	yield {
		name: `curvatures at 3 mm of a ring, ${million}`,
		against: "three-mesh-bvh MeshBVH",
		aim: 3,
		ours: () => finish(principalCurvatures(mesh, adjacency, 3)),
		theirs: () => libraryTree(mesh),
		agree: (ours) => check(ours as CurvatureField, shape),
	};
}
