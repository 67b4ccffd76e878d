/** From scan coordinates to the model frame: unit, size, mirror and stance (handbook 3). */

import { type TriangleMesh, vertexCount } from "../scan/mesh.ts";
import { rotationFromQuaternion, type Vec3 } from "../vector.ts";

export interface Stance {
	/** mm of the stone figure per scan unit: the unit times stone ÷ scan. */
	readonly mmPerUnit: number;
	/** Mirrored left for right, across the model's own x, after it was stood up. */
	readonly mirrored: boolean;
	/** The scan's faces look inwards; they are turned outwards. */
	readonly inward?: boolean;
	/** x, y, z, w: turns scan axes so that up is z; need not be of unit length. */
	readonly quaternion: readonly [number, number, number, number];
}

export interface ModelFrame {
	/** Millimetres at the size of the stone figure, z up, the foot at z = 0, x and y about the middle of the bounds. */
	readonly mesh: TriangleMesh;
	/** Row-major 4 × 4 that maps scan coordinates (as in the file) to the model frame. */
	readonly toModel: readonly number[];
	/** A place of the recentred scan (position, without the origin) in the model frame. */
	fromScan(place: Vec3): Vec3;
	readonly min: Vec3;
	readonly max: Vec3;
}

/**
 * Stands a scan up. `mesh` holds scan coordinates less `origin` (as it was read, recentred). A mirrored model keeps its
 * faces outward: the corners of each triangle change their order.
 */
export function modelFrame(mesh: TriangleMesh, origin: Vec3, stance: Stance): ModelFrame {
	const s = stance.mmPerUnit;
	const r = rotationFromQuaternion(stance.quaternion);
	const m = stance.mirrored ? -s : s;
	const a = [m * r[0], m * r[1], m * r[2], s * r[3], s * r[4], s * r[5], s * r[6], s * r[7], s * r[8]];
	const n = vertexCount(mesh);
	const from = mesh.positions;
	const positions = new Float64Array(3 * n);
	const min = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
	const max = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
	for (let i = 0; i < 3 * n; i += 3) {
		const x = from[i];
		const y = from[i + 1];
		const z = from[i + 2];
		for (let k = 0; k < 3; k++) {
			const v = a[3 * k] * x + a[3 * k + 1] * y + a[3 * k + 2] * z;
			positions[i + k] = v;
			if (v < min[k]) min[k] = v;
			if (v > max[k]) max[k] = v;
		}
	}
	const shift = [-(min[0] + max[0]) / 2, -(min[1] + max[1]) / 2, -min[2]];
	for (let i = 0; i < 3 * n; i += 3) {
		positions[i] += shift[0];
		positions[i + 1] += shift[1];
		positions[i + 2] += shift[2];
	}
	const back = (k: number): number =>
		shift[k] - (a[3 * k] * origin[0] + a[3 * k + 1] * origin[1] + a[3 * k + 2] * origin[2]);
	const toModel = [a[0], a[1], a[2], back(0), a[3], a[4], a[5], back(1), a[6], a[7], a[8], back(2), 0, 0, 0, 1];
	return {
		mesh: {
			positions,
			triangles: stance.mirrored !== (stance.inward ?? false) ? turnedOver(mesh.triangles) : mesh.triangles,
			...(mesh.colours ? { colours: mesh.colours } : {}),
		},
		toModel,
		fromScan: ([x, y, z]) => {
			const row = (k: number): number => a[3 * k] * x + a[3 * k + 1] * y + a[3 * k + 2] * z + shift[k];
			return [row(0), row(1), row(2)];
		},
		min: [min[0] + shift[0], min[1] + shift[1], 0],
		max: [max[0] + shift[0], max[1] + shift[1], max[2] + shift[2]],
	};
}

function turnedOver(triangles: Uint32Array): Uint32Array {
	const turned = triangles.slice();
	for (let i = 0; i < turned.length; i += 3) {
		const keep = turned[i + 1];
		turned[i + 1] = turned[i + 2];
		turned[i + 2] = keep;
	}
	return turned;
}
