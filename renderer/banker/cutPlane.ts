/** The plane by which the model is cut open: where it lies, and where a ray comes out of what was taken away. */

import type { Vec3 } from "../../core/vector.ts";
import type { CutOpen } from "../state/ui.ts";
import type { Bounds } from "./bounds.ts";
import type { ScanCut } from "./scanView.ts";

/** The plane through bounds of the frame that is shown; kept is normal·x ≤ offset. */
export function cutThrough({ min, max }: Bounds, { axis, share, far }: CutOpen): ScanCut {
	const at = min[axis] + share * (max[axis] - min[axis]);
	const sign = far ? 1 : -1;
	const normal: Vec3 = [axis === 0 ? sign : 0, axis === 1 ? sign : 0, axis === 2 ? sign : 0];
	return { normal, offset: sign * at };
}

/** Where a ray first is in what the cut keeps: its own origin, or its place on the plane when it comes through that. */
export function whereKept(origin: Vec3, direction: Vec3, { normal, offset }: ScanCut): Vec3 {
	const over = normal[0] * origin[0] + normal[1] * origin[1] + normal[2] * origin[2] - offset;
	const towards = normal[0] * direction[0] + normal[1] * direction[1] + normal[2] * direction[2];
	if (over <= 0 || towards >= 0) return origin;
	const by = over / -towards;
	return [origin[0] + by * direction[0], origin[1] + by * direction[1], origin[2] + by * direction[2]];
}
