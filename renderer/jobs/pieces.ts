/** A surface cut into pieces, each small enough to be handed to the graphics in a few milliseconds. */

export interface Piece {
	/** Which of the surface's vertices its own are. */
	readonly vertices: Uint32Array<ArrayBuffer>;
	/** Three of its own vertices a triangle. */
	readonly corners: Uint16Array<ArrayBuffer>;
}

/** A piece with what is drawn of it. */
export interface DisplayPiece extends Piece {
	readonly positions: Float32Array<ArrayBuffer>;
	readonly normals: Float32Array<ArrayBuffer>;
}

/** Vertices and triangles of a piece: about a megabyte. */
const MOST_VERTICES = 24_000;
const MOST_TRIANGLES = 40_000;

/** Cuts a surface of so many vertices, in the order of its triangles: scans list neighbours near each other. */
export function cutApart(triangles: Uint32Array, vertexCount: number): Piece[] {
	const pieces: Piece[] = [];
	/** A vertex's place in the piece being cut, good where `cutFor` names that piece. */
	const place = new Uint16Array(vertexCount);
	const cutFor = new Uint32Array(vertexCount);
	const vertices = new Uint32Array(MOST_VERTICES);
	const corners = new Uint16Array(3 * MOST_TRIANGLES);
	let count = 0;
	let filled = 0;
	const close = (): void => {
		if (filled > 0) pieces.push({ vertices: vertices.slice(0, count), corners: corners.slice(0, filled) });
		count = 0;
		filled = 0;
	};
	for (let t = 0; t < triangles.length; t += 3) {
		if (count + 3 > MOST_VERTICES || filled === corners.length) close();
		for (let k = 0; k < 3; k++) {
			const v = triangles[t + k];
			if (cutFor[v] !== pieces.length + 1) {
				cutFor[v] = pieces.length + 1;
				place[v] = count;
				vertices[count++] = v;
			}
			corners[filled++] = place[v];
		}
	}
	close();
	return pieces;
}

/** The piece with its own places and normals, out of those of the whole surface. */
export function takeFrom(positions: Float32Array, normals: Float32Array, piece: Piece): DisplayPiece {
	const { vertices } = piece;
	const taken = (from: Float32Array): Float32Array<ArrayBuffer> => {
		const to = new Float32Array(3 * vertices.length);
		for (let i = 0; i < vertices.length; i++) for (let k = 0; k < 3; k++) to[3 * i + k] = from[3 * vertices[i] + k];
		return to;
	};
	return { ...piece, positions: taken(positions), normals: taken(normals) };
}
