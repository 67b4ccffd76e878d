/** The figure drawn as lines in one view: outline, rim and contour lines, as far as they are seen. */

import type { CurvatureField } from "../curvature/principalCurvatures.ts";
import { type Job, within } from "../job.ts";
import type { TriangleMesh } from "../scan/mesh.ts";
import type { Placement } from "../vector.ts";
import { type CreaseLines, findCreases } from "./creaseLines.ts";
import type { ViewAxes } from "./faces.ts";
import { type Ground, type GroundKind, HATCHES, hatchLines } from "./hatching.ts";
import { chainBuilder, type LevelLines, levelLines, rimEdges } from "./levelLines.ts";
import { weighOutlines } from "./lineWeights.ts";
import { modelAxes, project, smoothTriples } from "./projection.ts";
import { buildScreenGrid, type ScreenGrid } from "./screenGrid.ts";
import { type Sight, visiblePieces } from "./visibleLines.ts";

/** The scan with what every view needs of it, worked out once. */
export interface Figure {
	readonly mesh: TriangleMesh;
	/** Smoothed once more, for outlines. */
	readonly normals: Float64Array;
	/** Positions, smoothed, for contour lines. */
	readonly smoothed: Float64Array;
	readonly rim: LevelLines;
	/** null where the curvatures were not given. */
	readonly creases: CreaseLines | null;
	readonly grounds: readonly Ground[];
}

/**
 * How far the depths and normals that lines are read from are smoothed: standard deviation in mm, half the usual smallest form.
 * A pass over edges of length h spreads by a variance of h²/4 in each direction.
 */
const SMOOTHING = 1.5;
const MOST_PASSES = 12;
/** Shorter pieces are dots, mm. */
const DOT = 0.3;
/** Outlines around less than this, or seen for less, are bumps of scan noise on ground that turns away; mm. */
const OUTLINES = { shortest: 10, shortestPiece: 0.6 };

function smoothingPasses(mesh: TriangleMesh): number {
	const { positions: p, triangles: t } = mesh;
	// One edge in many is enough to know how fine the mesh is.
	const stride = 3 * Math.max(1, Math.floor(t.length / 3 / 2000));
	let sum = 0;
	let count = 0;
	for (let i = 0; i < t.length; i += stride) {
		const [a, b] = [3 * t[i], 3 * t[i + 1]];
		const [dx, dy, dz] = [p[a] - p[b], p[a + 1] - p[b + 1], p[a + 2] - p[b + 2]];
		sum += dx * dx + dy * dy + dz * dz;
		count++;
	}
	return sum === 0 ? 0 : Math.min(MOST_PASSES, Math.round((4 * SMOOTHING * SMOOTHING * count) / sum));
}

export function* prepareFigure(
	mesh: TriangleMesh,
	normals: Float64Array,
	curvature: CurvatureField | null = null,
	grounds: readonly Ground[] = [],
): Job<Figure> {
	const passes = smoothingPasses(mesh);
	const vertices = mesh.positions.length / 3;
	const edges = rimEdges(mesh.triangles, vertices);
	const rim = chainBuilder(vertices);
	for (let i = 0; i < edges.length; i += 2)
		rim.segment(rim.node(edges[i], edges[i], 0, 0), rim.node(edges[i + 1], edges[i + 1], 0, 0));
	return {
		mesh,
		normals: yield* within(smoothTriples(mesh, normals, passes), 0.1, 0.4),
		smoothed: yield* within(smoothTriples(mesh, mesh.positions, passes), 0.4, 0.7),
		rim: rim.finish(),
		creases: curvature ? yield* within(findCreases(mesh, curvature), 0.7, 1) : null,
		grounds,
	};
}

/** Polylines in mm of the view plane (x right, y up). */
export interface FigureLines {
	/** Where the figure ends or drops away behind. */
	readonly outline: Float64Array[];
	/** Outlines of low relief before nearby ground. */
	readonly relief: Float64Array[];
	readonly contours: Float64Array[];
	readonly hollow: Float64Array[];
	readonly bulging: Float64Array[];
	/** Light hatching where the form turns from a light at the upper left. */
	readonly shade: Float64Array[];
	/** Marked ground that is seen here; kinds of which nothing is seen are left out. */
	readonly hatched: readonly { readonly kind: GroundKind; readonly lines: Float64Array[] }[];
	/** mm between two contour lines, measured towards the viewer. */
	readonly contourStep: number;
	/** Depth of the first contour line, mm of the view (greater is nearer to the viewer). */
	readonly contourBase: number;
	readonly grid: ScreenGrid;
	/** Where the figure reaches furthest left, down, right and up: x, y. */
	readonly extremes: readonly (readonly [number, number])[];
}

const STEPS: readonly number[] = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];

/** Where the light comes from: x right, y up, z towards the viewer. */
const LIGHT = [-0.48, 0.6, 0.64];
/** Cosine between light and normal under which the surface lies in shade. */
const IN_SHADE = 0.08;
/** mm on the paper. */
const SHADE_SPACING = 1.1;
const MOST_CONTOURS = 300;
const STAGE = "drawing the maps";

/**
 * `fine`: mm of stone that a tenth of a millimetre on the paper stands for. `step`: mm between two contour lines, as the carver
 * wishes; null: about thirty of them.
 */
export function* drawFigure(
	figure: Figure,
	view: ViewAxes,
	placement: Placement,
	fine: number,
	step: number | null = null,
): Job<FigureLines> {
	const { mesh } = figure;
	const projection = project(mesh.positions, view, placement);
	yield { stage: STAGE, share: 0.1 };
	const grid = buildScreenGrid(projection, mesh.triangles);
	const n = mesh.positions.length / 3;
	yield { stage: STAGE, share: 0.3 };

	const facing = new Float64Array(n);
	const nx = new Float64Array(n);
	const ny = new Float64Array(n);
	const { axes } = modelAxes(view, placement);
	const [[ax, ay, az], [bx, by, bz], [cx, cy, cz]] = axes;
	for (let i = 0, p = 0; i < n; i++, p += 3) {
		const x = figure.normals[p];
		const y = figure.normals[p + 1];
		const z = figure.normals[p + 2];
		nx[i] = ax * x + ay * y + az * z;
		ny[i] = bx * x + by * y + bz * z;
		facing[i] = cx * x + cy * y + cz * z;
	}
	const sight: Sight = {
		grid,
		projection,
		step: Math.max(0.25, fine * 2),
		tolerance: 0.25,
		shortest: Math.max(3, fine * 12),
		shortestPiece: DOT,
		thinning: fine * 0.4,
	};
	const turning = levelLines(mesh.triangles, facing, 0, 1, 1);
	yield { stage: STAGE, share: 0.5 };
	const turned = visiblePieces({ ...sight, ...OUTLINES }, turning, { nx, ny });
	yield { stage: STAGE, share: 0.6 };
	for (const piece of visiblePieces(sight, figure.rim)) turned.push(piece);
	const { heavy: outline, light: relief } = weighOutlines(grid, turned);

	yield { stage: STAGE, share: 0.7 };

	const depth = project(figure.smoothed, view, placement).zs;
	let near = -Infinity;
	let far = Infinity;
	const { xs, ys } = projection;
	const outermost: [number, number, number, number] = [0, 0, 0, 0];
	for (let i = 0; i < n; i++) {
		if (depth[i] > near) near = depth[i];
		if (depth[i] < far) far = depth[i];
		if (xs[i] < xs[outermost[0]]) outermost[0] = i;
		if (ys[i] < ys[outermost[1]]) outermost[1] = i;
		if (xs[i] > xs[outermost[2]]) outermost[2] = i;
		if (ys[i] > ys[outermost[3]]) outermost[3] = i;
	}
	const extremes = outermost.map((i) => [xs[i], ys[i]] as const);
	yield { stage: STAGE, share: 0.78 };
	// A wish for more lines than the eye can part is met as far as it goes.
	const contourStep = Math.max(step ?? STEPS.find((s) => s >= (near - far) / 30) ?? 1000, (near - far) / MOST_CONTOURS);
	const levels = Math.floor((near - far) / contourStep) + 1;
	// Half a step behind the nearest place first, so that no line runs around a single vertex there.
	const base = near - contourStep * (levels - 0.5);
	const lines = levelLines(mesh.triangles, depth, base, contourStep, levels);
	yield { stage: STAGE, share: 0.85 };
	const contours = visiblePieces({ ...sight, shortest: sight.shortest * 2 }, lines);
	const { creases } = figure;
	yield { stage: STAGE, share: 0.87 };
	const hollow = creases ? visiblePieces(sight, creases.hollow) : [];
	yield { stage: STAGE, share: 0.89 };
	const bulging = creases ? visiblePieces(sight, creases.bulging) : [];
	const within = [extremes[0][0], extremes[1][1], extremes[2][0], extremes[3][1]] as const;
	const hatched: { kind: GroundKind; lines: Float64Array[] }[] = [];
	for (const { kind, at } of figure.grounds) {
		yield { stage: STAGE, share: 0.9 };
		const { slopes, spacing } = HATCHES[kind];
		const lines = slopes.flatMap((s) => hatchLines(grid, mesh.triangles, at, s, 10 * fine * spacing, within));
		if (lines.length > 0) hatched.push({ kind, lines });
	}
	const shaded = new Uint8Array(n);
	for (let i = 0; i < n; i++) if (LIGHT[0] * nx[i] + LIGHT[1] * ny[i] + LIGHT[2] * facing[i] < IN_SHADE) shaded[i] = 1;
	const shade = hatchLines(grid, mesh.triangles, shaded, -1, 10 * fine * SHADE_SPACING, within);
	return { outline, relief, hollow, bulging, contours, shade, hatched, contourStep, contourBase: base, grid, extremes };
}
