/** 300 points with lines, stops and cover on a scan of 1.6 million triangles, and again with another stop alone. */

import { principalCurvatures } from "../../core/curvature/principalCurvatures.ts";
import { aimOf, drillOf } from "../../core/drilling/drill.ts";
import { isUndercut } from "../../core/drilling/drillLine.ts";
import { createLineSearch, type LineSearch } from "../../core/drilling/lineSearch.ts";
import { finish } from "../../core/job.ts";
import { toolSchema } from "../../core/plan/commission.ts";
import { type WorkedPoints, workPoints } from "../../core/plan/parts/workedPoints.ts";
import { asDrilled } from "../../core/pointing/asDrilled.ts";
import { type PointedGround, placeRounds } from "../../core/pointing/rounds.ts";
import { stoneOf } from "../../core/stone/block.ts";
import { buildAdjacency } from "../../core/surface/adjacency.ts";
import { buildSurfaceIndex, type SurfaceIndex } from "../../core/surface/surfaceIndex.ts";
import { vertexAreas } from "../../core/surface/vertexNormals.ts";
import { IDENTITY, type Placement, type Vec3 } from "../../core/vector.ts";
import type { Comparison } from "./harness.ts";
import { fineOwl, libraryTree } from "./inputs.ts";

const POINTS = 300;
const BLOCK: Vec3 = [220, 200, 450];
const PLACEMENT: Placement = { rotation: IDENTITY, translation: [BLOCK[0] / 2, BLOCK[1] / 2, 15] };

interface Lined {
	readonly index: SurfaceIndex;
	readonly search: LineSearch;
	readonly placed: PointedGround;
}

export default function* linesBench(): Iterable<Comparison> {
	const mesh = fineOwl();
	const adjacency = buildAdjacency(mesh);
	const areas = vertexAreas(mesh);
	const field = finish(principalCurvatures(mesh, adjacency, 3));
	const drill = drillOf(toolSchema.parse({}));
	const million = `${(mesh.triangles.length / 3e6).toFixed(2)} million triangles`;
	const against = "three-mesh-bvh MeshBVH";
	const theirs = () => libraryTree(mesh);

	const place = (): Lined => {
		const index = finish(buildSurfaceIndex(mesh));
		const search = createLineSearch({
			index,
			stone: stoneOf({ kind: "box", size: BLOCK }),
			// The owl stands about the axis of its post.
			placement: PLACEMENT,
			lies: [
				{ name: "upright", closedFace: "bed" },
				{ name: "on its back", closedFace: "back" },
			],
			coneDeg: 30,
			leanDeg: 25,
			outsideMm: 300,
			aim: aimOf("faces"),
		});
		const placed = finish(
			placeRounds(
				{ mesh, adjacency, areas, field, height: 412, smallestForm: 3 },
				[{ kind: "net", join: 6, eyeFactor: 1, count: POINTS, drill: drill.diameter, round: 0 }],
				[],
				(x, y, z, nx, ny, nz) => search.reaches({ position: [x, y, z], normal: [nx, ny, nz] }, drill, 2),
			),
		);
		return { index, search, placed };
	};
	const drillAt = ({ index, search, placed }: Lined, stop: number): { worked: WorkedPoints; ground: PointedGround } => {
		const tools = { drills: [drill], allowances: [stop] };
		const worked = finish(
			workPoints(placed.points, search, index, true, {
				...tools,
				bridges: [[]],
				bosses: [],
				placement: PLACEMENT,
				sunk: new Map(),
			}),
		);
		const drilled = Uint8Array.from(worked.worked, ({ answer }) => (isUndercut(answer) ? 0 : 1));
		return { worked, ground: finish(asDrilled(placed, drilled)) };
	};
	const check = (found: unknown): void => {
		const { worked, ground } = found as ReturnType<typeof drillAt>;
		const holes = worked.worked.filter(({ answer }) => !isUndercut(answer)).length;
		if (worked.worked.length !== POINTS || holes < 0.9 * POINTS) throw new Error(`${holes} holes`);
		if (!((ground.rounds[0].claimedShare as number) > 0.3)) throw new Error("hardly anything is claimed");
	};
	yield {
		name: `${POINTS} points with lines, stops and cover, ${million}, index included`,
		against,
		aim: 7,
		ours: () => drillAt(place(), 2),
		theirs,
		agree: check,
	};
	const warm = place();
	// A stop of 8 loses holes, so that the cover is measured again; 2 gives them back.
	const stops = [8, 2];
	let runs = 0;
	yield {
		name: `only the stop changed, ${million}`,
		against,
		aim: 1,
		ours: () => drillAt(warm, stops[runs++ % 2]),
		theirs,
		agree: check,
	};
}
