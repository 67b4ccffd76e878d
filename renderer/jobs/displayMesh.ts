/** The scan as the banker draws it: 32-bit copies that are handed over, and a bounding volume hierarchy for picking. */

import { BufferAttribute, BufferGeometry } from "three";
import { MeshBVH, type SerializedBVH } from "three-mesh-bvh";
import type { TriangleMesh } from "../../core/scan/mesh.ts";

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
}

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
	return { version: ++lastVersion, positions, normals: Float32Array.from(normals), triangles, colours, index };
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
		...roots,
		...(indirectBuffer ? [indirectBuffer.buffer] : []),
	];
}
