/** The surface index against three-mesh-bvh: building it, rays, closest places. */

import { DoubleSide, Ray, Vector3 } from "three";
import type { MeshBVH } from "three-mesh-bvh";
import { finish } from "../../core/job.ts";
import { seededRandom } from "../../core/random.ts";
import type { TriangleMesh } from "../../core/scan/mesh.ts";
import { buildSurfaceIndex, type SurfaceIndex } from "../../core/surface/surfaceIndex.ts";
import { unit, type Vec3 } from "../../core/vector.ts";
import { rippledRing } from "../support/rippledRing.ts";
import type { Comparison } from "./harness.ts";
import { libraryTree, owl } from "./inputs.ts";

interface Question {
	readonly at: Vec3;
	readonly towards: Vec3;
}

/** Places up to 40 mm off seeded vertices, each looking at a place near another vertex. */
function questions({ positions }: TriangleMesh, count: number): Question[] {
	const random = seededRandom(7);
	const near = (mm: number): Vec3 => {
		const v = 3 * random.below(positions.length / 3);
		const off = (): number => mm * (2 * random.next() - 1);
		return [positions[v] + off(), positions[v + 1] + off(), positions[v + 2] + off()];
	};
	return Array.from({ length: count }, () => {
		const [at, aim] = [near(40), near(5)];
		return { at, towards: unit([aim[0] - at[0], aim[1] - at[1], aim[2] - at[2]]) };
	});
}

/** Distance that each ray goes, −1 where it meets nothing. */
function ourRays(index: SurfaceIndex, asked: readonly Question[]): Float64Array {
	const hit = { distance: 0, triangle: 0 };
	return Float64Array.from(asked, ({ at, towards }) => index.castRay(at, towards, Infinity, hit)?.distance ?? -1);
}

function theirRays(tree: MeshBVH, asked: readonly Question[]): Float64Array {
	const ray = new Ray();
	return Float64Array.from(asked, ({ at, towards }) => {
		ray.origin.set(...at);
		ray.direction.set(...towards);
		return tree.raycastFirst(ray, DoubleSide)?.distance ?? -1;
	});
}

function ourDistances(index: SurfaceIndex, asked: readonly Question[]): Float64Array {
	const hit = { distance: 0, triangle: 0, x: 0, y: 0, z: 0 };
	return Float64Array.from(asked, ({ at }) => index.closestPoint(at, Infinity, hit)?.distance ?? -1);
}

function theirDistances(tree: MeshBVH, asked: readonly Question[]): Float64Array {
	const point = new Vector3();
	const hit = { point: new Vector3(), distance: 0, faceIndex: 0 };
	return Float64Array.from(asked, ({ at }) => tree.closestPointToPoint(point.set(...at), hit)?.distance ?? -1);
}

/** Equal to a millionth of a millimetre, and a fair share of the rays meets something. */
function same(ours: Float64Array, theirs: Float64Array): void {
	let met = 0;
	for (const [i, distance] of ours.entries()) {
		if (!(Math.abs(distance - theirs[i]) < 1e-6)) throw new Error(`question ${i}: ${distance} and ${theirs[i]} mm`);
		if (distance >= 0) met++;
	}
	if (met < ours.length / 2) throw new Error(`only ${met} of ${ours.length} questions met the surface`);
}

export default function* surfaceBench(): Iterable<Comparison> {
	for (const [name, mesh] of [
		["owl", owl().mesh],
		["rippled ring", rippledRing(1264, 633)],
	] as const) {
		const asked = questions(mesh, 500);
		yield {
			name: `index of the ${name}, ${(mesh.triangles.length / 3e6).toFixed(2)} million triangles`,
			against: "three-mesh-bvh MeshBVH",
			aim: null,
			ours: () => finish(buildSurfaceIndex(mesh)),
			theirs: () => libraryTree(mesh),
			agree: (ours, theirs) => {
				same(ourRays(ours as SurfaceIndex, asked), theirRays(theirs as MeshBVH, asked));
				same(ourDistances(ours as SurfaceIndex, asked), theirDistances(theirs as MeshBVH, asked));
			},
		};
	}

	const { mesh } = owl();
	const index = finish(buildSurfaceIndex(mesh));
	const tree = libraryTree(mesh);
	const asked = questions(mesh, 50_000);
	yield {
		name: "50,000 rays at the owl",
		against: "three-mesh-bvh raycastFirst",
		aim: null,
		ours: () => ourRays(index, asked),
		theirs: () => theirRays(tree, asked),
		agree: (ours, theirs) => same(ours as Float64Array, theirs as Float64Array),
	};
	yield {
		name: "50,000 closest places on the owl",
		against: "three-mesh-bvh closestPointToPoint",
		aim: null,
		ours: () => ourDistances(index, asked),
		theirs: () => theirDistances(tree, asked),
		agree: (ours, theirs) => same(ours as Float64Array, theirs as Float64Array),
	};
}
