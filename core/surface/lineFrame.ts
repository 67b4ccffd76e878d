/** The surface seen along one line: x along it, y and z across it. Fields, not answers, so that hot loops make no garbage. */

import { squareTo, type Vec3 } from "../vector.ts";

/** Tangent of the steepest plane that still counts as crossing the line; steeper ones are decided by their edges. */
export const STEEPEST = 1e7;

export class LineFrame {
	/** Origin, direction and two axes square to it, frame of the mesh. */
	dx = 0;
	dy = 0;
	dz = 1;
	ex = 1;
	ey = 0;
	ez = 0;
	fx = 0;
	fy = 1;
	fz = 0;
	ox = 0;
	oy = 0;
	oz = 0;

	/** Of the node measured last: range of x in its box, and the box's least distance from the line. */
	low = 0;
	high = 0;
	rho = 0;

	/** Corners of the triangle taken last, its range of x, and the least distance of its box from the line. */
	ax = 0;
	ay = 0;
	az = 0;
	bx = 0;
	by = 0;
	bz = 0;
	cx = 0;
	cy = 0;
	cz = 0;
	bottom = 0;
	top = 0;
	near = 0;

	/** Of its plane x = x0 + gy·y + gz·z, and its doubled area seen along the line. Infinite or NaN where there is no such plane. */
	det = 0;
	gy = 0;
	gz = 0;
	x0 = 0;
	slope = 0;

	/** `direction` must be of unit length. */
	set(origin: Vec3, direction: Vec3): void {
		[this.ox, this.oy, this.oz] = origin;
		[this.dx, this.dy, this.dz] = direction;
		[this.ex, this.ey, this.ez] = squareTo(direction);
		this.fx = this.dy * this.ez - this.dz * this.ey;
		this.fy = this.dz * this.ex - this.dx * this.ez;
		this.fz = this.dx * this.ey - this.dy * this.ex;
	}

	measureNode(bounds: Float32Array, at: number): void {
		const { dx, dy, dz, ex, ey, ez, fx, fy, fz } = this;
		const hx = (bounds[at + 3] - bounds[at]) / 2;
		const hy = (bounds[at + 4] - bounds[at + 1]) / 2;
		const hz = (bounds[at + 5] - bounds[at + 2]) / 2;
		const cx = (bounds[at + 3] + bounds[at]) / 2 - this.ox;
		const cy = (bounds[at + 4] + bounds[at + 1]) / 2 - this.oy;
		const cz = (bounds[at + 5] + bounds[at + 2]) / 2 - this.oz;
		const x = cx * dx + cy * dy + cz * dz;
		const half = hx * Math.abs(dx) + hy * Math.abs(dy) + hz * Math.abs(dz);
		const y = Math.abs(cx * ex + cy * ey + cz * ez) - (hx * Math.abs(ex) + hy * Math.abs(ey) + hz * Math.abs(ez));
		const z = Math.abs(cx * fx + cy * fy + cz * fz) - (hx * Math.abs(fx) + hy * Math.abs(fy) + hz * Math.abs(fz));
		this.low = x - half;
		this.high = x + half;
		this.rho = y > 0 ? (z > 0 ? Math.sqrt(y * y + z * z) : y) : Math.max(z, 0);
	}

	takeTriangle(positions: Float64Array, triangles: Uint32Array, t: number): void {
		const { ox, oy, oz, dx, dy, dz, ex, ey, ez, fx, fy, fz } = this;
		const a = 3 * triangles[3 * t];
		const b = 3 * triangles[3 * t + 1];
		const c = 3 * triangles[3 * t + 2];
		let px = positions[a] - ox;
		let py = positions[a + 1] - oy;
		let pz = positions[a + 2] - oz;
		const ax = px * dx + py * dy + pz * dz;
		const ay = px * ex + py * ey + pz * ez;
		const az = px * fx + py * fy + pz * fz;
		px = positions[b] - ox;
		py = positions[b + 1] - oy;
		pz = positions[b + 2] - oz;
		const bx = px * dx + py * dy + pz * dz;
		const by = px * ex + py * ey + pz * ez;
		const bz = px * fx + py * fy + pz * fz;
		px = positions[c] - ox;
		py = positions[c + 1] - oy;
		pz = positions[c + 2] - oz;
		const cx = px * dx + py * dy + pz * dz;
		const cy = px * ex + py * ey + pz * ez;
		const cz = px * fx + py * fy + pz * fz;
		const ly = Math.max(0, Math.min(ay, by, cy), -Math.max(ay, by, cy));
		const lz = Math.max(0, Math.min(az, bz, cz), -Math.max(az, bz, cz));
		this.ax = ax;
		this.ay = ay;
		this.az = az;
		this.bx = bx;
		this.by = by;
		this.bz = bz;
		this.cx = cx;
		this.cy = cy;
		this.cz = cz;
		this.bottom = Math.min(ax, bx, cx);
		this.top = Math.max(ax, bx, cx);
		this.near = Math.sqrt(ly * ly + lz * lz);
	}

	/** The plane of the triangle taken last. */
	takePlane(): void {
		const { ax, ay, az, bx, by, bz, cx, cy, cz } = this;
		const det = (by - ay) * (cz - az) - (cy - ay) * (bz - az);
		const gy = ((bx - ax) * (cz - az) - (cx - ax) * (bz - az)) / det;
		const gz = ((cx - ax) * (by - ay) - (bx - ax) * (cy - ay)) / det;
		this.det = det;
		this.gy = gy;
		this.gz = gz;
		this.x0 = ax - gy * ay - gz * az;
		this.slope = Math.sqrt(gy * gy + gz * gz);
	}

	/** Whether the place (y, z) of its plane lies in the triangle taken last. */
	isOver(y: number, z: number): boolean {
		const { ay, az, by, bz, cy, cz } = this;
		const overA = (by - y) * (cz - z) - (cy - y) * (bz - z);
		const overB = (cy - y) * (az - z) - (ay - y) * (cz - z);
		const overC = (ay - y) * (bz - z) - (by - y) * (az - z);
		return this.det > 0 ? overA >= 0 && overB >= 0 && overC >= 0 : overA <= 0 && overB <= 0 && overC <= 0;
	}

	/** The place (x, y, z) of this frame in the frame of the mesh. */
	toMesh(x: number, y: number, z: number, into: { x: number; y: number; z: number }): void {
		into.x = this.ox + x * this.dx + y * this.ex + z * this.fx;
		into.y = this.oy + x * this.dy + y * this.ey + z * this.fy;
		into.z = this.oz + x * this.dz + y * this.ez + z * this.fz;
	}
}
