/** Scans written out: for the demo, for export and for the tests. */

import { type TriangleMesh, triangleCount, vertexCount } from "./mesh.ts";

const asciiBytes = (text: string): Uint8Array => Uint8Array.from(text, (c) => c.charCodeAt(0));

/** Binary STL: coordinates rounded to 32 bits, normals of length 1 (0, 0, 0 without area), no colours. */
export function writeBinaryStl(mesh: TriangleMesh): Uint8Array {
	const { positions: p, triangles } = mesh;
	const n = triangleCount(mesh);
	const bytes = new Uint8Array(84 + 50 * n);
	// The header must not begin with "solid", by which careless readers take a file for text.
	bytes.set(asciiBytes("Puntello, binary STL"));
	const view = new DataView(bytes.buffer);
	view.setUint32(80, n, true);
	for (let t = 0; t < n; t++) {
		const at = 84 + 50 * t;
		const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
		const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
		const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
		const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
		const scale = 1 / (Math.sqrt(nx * nx + ny * ny + nz * nz) || 1);
		view.setFloat32(at, nx * scale, true);
		view.setFloat32(at + 4, ny * scale, true);
		view.setFloat32(at + 8, nz * scale, true);
		for (let k = 0; k < 3; k++) {
			const corner = k === 0 ? a : k === 1 ? b : c;
			for (let d = 0; d < 3; d++) view.setFloat32(at + 12 + 12 * k + 4 * d, p[corner + d], true);
		}
	}
	return bytes;
}

/**
 * Binary little-endian PLY with vertex colours where the mesh has them. `coordinates` "float" rounds to 32 bits,
 * "double" keeps every digit.
 */
export function writeBinaryPly(mesh: TriangleMesh, coordinates: "float" | "double" = "float"): Uint8Array {
	const { positions, triangles, colours } = mesh;
	const vertices = vertexCount(mesh);
	const n = triangleCount(mesh);
	const header = asciiBytes(
		[
			"ply",
			"format binary_little_endian 1.0",
			`element vertex ${vertices}`,
			...["x", "y", "z"].map((axis) => `property ${coordinates} ${axis}`),
			...(colours ? ["red", "green", "blue"].map((colour) => `property uchar ${colour}`) : []),
			`element face ${n}`,
			"property list uchar int vertex_indices",
			"end_header",
			"",
		].join("\n"),
	);
	const wide = coordinates === "double";
	const stride = (wide ? 24 : 12) + (colours ? 3 : 0);
	const bytes = new Uint8Array(header.length + stride * vertices + 13 * n);
	bytes.set(header);
	const view = new DataView(bytes.buffer);
	let at = header.length;
	for (let v = 0; v < vertices; v++) {
		for (let k = 0; k < 3; k++, at += wide ? 8 : 4) {
			if (wide) view.setFloat64(at, positions[3 * v + k], true);
			else view.setFloat32(at, positions[3 * v + k], true);
		}
		if (colours) for (let k = 0; k < 3; k++) bytes[at++] = colours[3 * v + k];
	}
	for (let t = 0; t < n; t++) {
		bytes[at++] = 3;
		for (let k = 0; k < 3; k++, at += 4) view.setUint32(at, triangles[3 * t + k], true);
	}
	return bytes;
}
