/** The one mesh type of the program. */

/** A welded triangle mesh. Whoever holds it says which frame it is in. */
export interface TriangleMesh {
	/** x, y, z of each vertex; length 3 × vertices. Millimetres in the model frame, file units in the scan frame. */
	readonly positions: Float64Array;
	/** Three vertex indices a triangle, counter-clockwise seen from outside; length 3 × triangles. */
	readonly triangles: Uint32Array;
	/** Red, green, blue 0–255 of each vertex, where the file had them; length 3 × vertices. */
	readonly colours?: Uint8Array;
}

export const vertexCount = (mesh: TriangleMesh): number => mesh.positions.length / 3;
export const triangleCount = (mesh: TriangleMesh): number => mesh.triangles.length / 3;
