/** Rays and closest places on the scan, in the window itself, through the hierarchy that the worker built. */

import { BufferAttribute, BufferGeometry, DoubleSide, Ray, Vector3 } from "three";
import { type ExtendedTriangle, type HitPointInfo, MeshBVH } from "three-mesh-bvh";
import type { Vec3 } from "../../core/vector.ts";
import type { DisplayMesh } from "../jobs/displayMesh.ts";
import { GROUND_OVER_REACH, snapVertex } from "./snap.ts";

/** A place on the scan, model frame: mm, unit normal. */
export interface Place {
	readonly position: Vec3;
	readonly normal: Vec3;
}

export interface Picker {
	/** Where a ray first meets the scan, or null. `direction` is a unit vector. */
	cast(origin: Vec3, direction: Vec3): Place | null;
	/** The place on the scan closest to a point. */
	closest(to: Vec3): Place | null;
	/** Whether the scan itself stands between the place and a viewer infinitely far away towards `eye`. */
	hidden(position: Vec3, normal: Vec3, eye: Vec3): boolean;
	/** Whether the scan stands between the place and that viewer, whichever way its surface faces. `eye` is a unit vector. */
	blocked(position: Vec3, eye: Vec3): boolean;
	/** The local high or low within `reach` mm of the place; the place itself where nothing stands out. */
	snapped(place: Place, reach: number): Place;
}

/** How far a ray of `hidden` starts over the surface: above the noise of a scan, under any form. mm */
const LIFT_MM = 0.6;

export function createPicker(mesh: DisplayMesh): Picker {
	const geometry = new BufferGeometry();
	geometry.setAttribute("position", new BufferAttribute(mesh.positions, 3));
	geometry.setIndex(new BufferAttribute(mesh.triangles, 1));
	const bvh = MeshBVH.deserialize(mesh.index, geometry, { setIndex: false });
	const { positions, normals, triangles } = mesh;
	const ray = new Ray();
	const point = new Vector3();
	const found: HitPointInfo = { point: new Vector3(), distance: 0, faceIndex: 0 };

	/** The normal at a place of a triangle, blended from its corners' by barycentric weights. */
	const normalAt = (triangle: number, at: Vec3): Vec3 => {
		const corners = [0, 1, 2].map((k) => 3 * triangles[3 * triangle + k]);
		const [a, b, c] = corners.map((v) => new Vector3(positions[v], positions[v + 1], positions[v + 2]));
		const ab = b.clone().sub(a);
		const ac = c.clone().sub(a);
		const ap = new Vector3(...at).sub(a);
		const flat = ab.clone().cross(ac);
		const whole = flat.lengthSq() || 1;
		const wc = ab.clone().cross(ap).dot(flat) / whole;
		const wb = ap.clone().cross(ac).dot(flat) / whole;
		const weights = [1 - wb - wc, wb, wc];
		const n = new Vector3();
		corners.forEach((v, k) => {
			n.addScaledVector(new Vector3(normals[v], normals[v + 1], normals[v + 2]), weights[k]);
		});
		if (n.lengthSq() < 1e-12) n.copy(flat);
		n.normalize();
		return [n.x, n.y, n.z];
	};
	const cast = (origin: Vec3, direction: Vec3): Place | null => {
		ray.origin.set(...origin);
		ray.direction.set(...direction);
		const hit = bvh.raycastFirst(ray, DoubleSide);
		if (!hit || hit.faceIndex === undefined || hit.faceIndex === null) return null;
		const position: Vec3 = [hit.point.x, hit.point.y, hit.point.z];
		return { position, normal: normalAt(hit.faceIndex, position) };
	};
	const verticesWithin = (at: Vec3, radius: number): number[] => {
		const vertices = new Set<number>();
		const middle = new Vector3(...at);
		bvh.shapecast({
			intersectsBounds: (box) => box.distanceToPoint(middle) <= radius,
			intersectsTriangle: (_: ExtendedTriangle, triangle: number) => {
				for (let k = 0; k < 3; k++) {
					const v = triangles[3 * triangle + k];
					const dx = positions[3 * v] - middle.x;
					const dy = positions[3 * v + 1] - middle.y;
					const dz = positions[3 * v + 2] - middle.z;
					if (dx * dx + dy * dy + dz * dz <= radius * radius) vertices.add(v);
				}
				return false;
			},
		});
		return [...vertices].sort((a, b) => a - b);
	};
	const meets = (from: Vec3, lift: Vec3, eye: Vec3): boolean => {
		ray.origin.set(from[0] + LIFT_MM * lift[0], from[1] + LIFT_MM * lift[1], from[2] + LIFT_MM * lift[2]);
		ray.direction.set(...eye);
		return bvh.raycastFirst(ray, DoubleSide) !== null;
	};
	return {
		cast,
		closest(to) {
			const hit = bvh.closestPointToPoint(point.set(...to), found);
			if (!hit) return null;
			const position: Vec3 = [hit.point.x, hit.point.y, hit.point.z];
			return { position, normal: normalAt(hit.faceIndex, position) };
		},
		hidden(position, normal, eye) {
			if (normal[0] * eye[0] + normal[1] * eye[1] + normal[2] * eye[2] <= 0.02) return true;
			return meets(position, normal, eye);
		},
		blocked: (position, eye) => meets(position, eye, eye),
		snapped(place, reach) {
			const near = verticesWithin(place.position, GROUND_OVER_REACH * reach);
			const v = snapVertex(positions, normals, near, place.position, place.normal, reach);
			if (v < 0) return place;
			return {
				position: [positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]],
				normal: [normals[3 * v], normals[3 * v + 1], normals[3 * v + 2]],
			};
		},
	};
}
