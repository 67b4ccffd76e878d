/** What the choice of points reads: the surface, and what the carver asks of each round. */

import type { CurvatureField } from "../curvature/principalCurvatures.ts";
import type { TriangleMesh } from "../scan/mesh.ts";
import type { Adjacency } from "../surface/adjacency.ts";
import type { Vec3 } from "../vector.ts";

export interface Ground {
	/** Model frame, mm, z up. */
	readonly mesh: TriangleMesh;
	readonly adjacency: Adjacency;
	/** mm² of each vertex, as from `vertexAreas`. */
	readonly areas: Float64Array;
	/** Read over `smallestForm`. */
	readonly field: CurvatureField;
	/** Height of the figure, mm: sets the greatest spacing. */
	readonly height: number;
	/** Triangles from this one on are the backing of an open shell, never targets. */
	readonly firstAddedTriangle?: number;
	/** mm */
	readonly smallestForm: number;
	/**
	 * The carver's brushed factor on the spacing at each vertex: 1 as it comes, below 1 denser, above 1 wider,
	 * 0 for ground that stays rough and gets no points.
	 */
	readonly brushed?: Float32Array;
}

export interface RoundRequest {
	readonly kind: "high points" | "net";
	/** Join allowance j, mm. */
	readonly join: number;
	/** f: 1 is the strict rule. */
	readonly eyeFactor: number;
	/** Number of new points instead of a limit on the cover. */
	readonly count: number | null;
	/** Drill diameter, mm. */
	readonly drill: number;
	/** Index of the round in the commission, handed on to `Reach` and to the points. */
	readonly round: number;
}

/** A place that the carver wants as a point, whatever the spacing; model frame. */
export interface Pick {
	readonly position: Vec3;
	/** Which way the surface faces there: tells the two sides of a thin part from each other. */
	readonly normal: Vec3;
}

/** A point whose hole is in the stone. */
export interface DrilledHole extends Pick {
	/** The number that it keeps. */
	readonly number: number;
	readonly round: number;
	readonly kind: PointKind;
}

/** True when a permitted drill line leads to the place, for the tool of the round; model frame, n the unit outward normal. */
export type Reach = (x: number, y: number, z: number, nx: number, ny: number, nz: number, round: number) => boolean;

export type PointKind = "high point" | "picked" | "net" | "added";

/** A point on the model's surface. */
export interface SurfacePoint {
	readonly vertex: number;
	/** mm; the vertex itself but for picked points, which keep their own place. */
	readonly position: Vec3;
	/** Unit outward normal averaged over the smallest form. */
	readonly normal: Vec3;
	readonly round: number;
	readonly kind: PointKind;
	/** False: an undercut. It is listed, no hole is drilled, and no facet that rests on it is claimed. */
	readonly reachable: boolean;
	/** The spacing's least limit wins over the cover here. */
	readonly byEye: boolean;
	/** The number that it keeps because it has been drilled; null while it is free. */
	readonly number: number | null;
	/** Why it is by eye or an undercut, empty otherwise. */
	readonly reason: string;
}

/** The part of the mesh that can carry points, as a mesh of its own over the same vertices. */
export interface Surface {
	readonly mesh: TriangleMesh;
	readonly adjacency: Adjacency;
	/** 1 where a vertex belongs to at least one triangle with area and the carver has not left it rough. */
	readonly carries: Uint8Array;
}
