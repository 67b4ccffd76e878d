/** A great scan that is made in a moment. */

import type { TriangleMesh } from "../../core/scan/mesh.ts";

/** A ring whose skin is rippled, `sections` × `corners` quadrilaterals in two triangles each, coordinates of 32 bits. */
export function rippledRing(sections: number, corners: number): TriangleMesh {
	const positions = new Float64Array(3 * sections * corners);
	const triangles = new Uint32Array(6 * sections * corners);
	for (let i = 0, p = 0, t = 0; i < sections; i++)
		for (let j = 0; j < corners; j++) {
			const [u, v] = [(2 * Math.PI * i) / sections, (2 * Math.PI * j) / corners];
			const r = 60 + 3 * Math.sin(9 * u) * Math.cos(11 * v);
			const out = 150 + r * Math.cos(v);
			for (const x of [out * Math.cos(u), out * Math.sin(u), r * Math.sin(v)]) positions[p++] = Math.fround(x);
			const [a, d] = [i * corners + j, i * corners + ((j + 1) % corners)];
			const [b, c] = [a, d].map((k) => (k + corners) % (sections * corners));
			for (const k of [a, b, c, a, c, d]) triangles[t++] = k;
		}
	return { positions, triangles };
}
