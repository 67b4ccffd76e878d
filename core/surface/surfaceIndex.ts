/** What the stages ask of the surface index; the only room that knows which library answers is this folder. */
export interface RayHit {
	/** mm along the ray */
	distance: number;
	/** index into the mesh's triangles */
	triangle: number;
}
export interface ClosestHit {
	distance: number;
	triangle: number;
	x: number;
	y: number;
	z: number;
}
