/** The scan as the banker draws it: 32-bit copies that are handed over, and a bounding volume hierarchy for picking. */

import { BufferAttribute, BufferGeometry } from "three";
import { MeshBVH, type SerializedBVH } from "three-mesh-bvh";
import type { TriangleMesh } from "../../core/scan/mesh.ts";
import { type Bounds, boundsOf } from "../banker/bounds.ts";
import { cutApart, type DisplayPiece, takeFrom } from "./pieces.ts";

export type { DisplayPiece } from "./pieces.ts";

/** Model frame, mm. */
export interface DisplayMesh {
	/** Told apart by the window: another number, another surface. */
	readonly version: number;
	readonly positions: Float32Array<ArrayBuffer>;
	/** Unit, outward. */
	readonly normals: Float32Array<ArrayBuffer>;
	readonly triangles: Uint32Array<ArrayBuffer>;
	/** Red, green, blue of each vertex as the scanner saw them, 0–255; null where the file has none. */
	readonly colours: Uint8Array<ArrayBuffer> | null;
	/** Of the hierarchy over `triangles`, which stay in their order. */
	readonly index: SerializedBVH;
	readonly bounds: Bounds;
	/** The same surface once more, as it is drawn. */
	readonly pieces: readonly DisplayPiece[];
	/** Of a large scan once more positions and triangles, to be handed on to whoever makes its stand-in: a copy made here. */
	readonly spare: {
		readonly positions: Float32Array<ArrayBuffer>;
		readonly triangles: Uint32Array<ArrayBuffer>;
	} | null;
}

/** From this many triangles on a scan is given a stand-in for while it moves. */
const COARSE_FROM = 400_000;

let lastVersion = 0;

/** Copies for the window; takes about a second per 1.5 million triangles, most of it the hierarchy. */
export function displayMesh(mesh: TriangleMesh, normals: ArrayLike<number>): DisplayMesh {
	const positions = Float32Array.from(mesh.positions);
	const triangles = mesh.triangles.slice();
	const geometry = new BufferGeometry();
	geometry.setAttribute("position", new BufferAttribute(positions, 3));
	geometry.setIndex(new BufferAttribute(triangles, 1));
	const index = MeshBVH.serialize(new MeshBVH(geometry, { indirect: true }), { cloneBuffers: false });
	const colours = mesh.colours ? mesh.colours.slice() : null;
	const shown = Float32Array.from(normals);
	const pieces = cutApart(triangles, positions.length / 3).map((piece) => takeFrom(positions, shown, piece));
	const spare =
		triangles.length / 3 < COARSE_FROM ? null : { positions: positions.slice(), triangles: triangles.slice() };
	const bounds = boundsOf(positions);
	return { version: ++lastVersion, positions, normals: shown, triangles, colours, index, bounds, pieces, spare };
}

/** Every buffer of a display mesh, for handing over. */
export function buffersOf(mesh: DisplayMesh): Transferable[] {
	const { roots, indirectBuffer } = mesh.index as unknown as {
		roots: ArrayBuffer[];
		indirectBuffer: Uint32Array<ArrayBuffer> | null;
	};
	return [
		mesh.positions.buffer,
		mesh.normals.buffer,
		mesh.triangles.buffer,
		...(mesh.colours ? [mesh.colours.buffer] : []),
		...(mesh.spare ? [mesh.spare.positions.buffer, mesh.spare.triangles.buffer] : []),
		...mesh.pieces.flatMap((p) => [p.vertices.buffer, p.positions.buffer, p.normals.buffer, p.corners.buffer]),
		...roots,
		...(indirectBuffer ? [indirectBuffer.buffer] : []),
	];
}
