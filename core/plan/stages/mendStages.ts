/** The scan as the carver has it mended, and given a back where it is an open shell. */

import { type Job, within } from "../../job.ts";
import { backShell, rimDirection } from "../../scan/backShell.ts";
import { examine, type ScanHealth } from "../../scan/health.ts";
import { type MendChoices, type Mended, mend } from "../../scan/mend.ts";
import { triangleCount } from "../../scan/mesh.ts";
import { rotationFromQuaternion, turnBack, type Vec3 } from "../../vector.ts";
import type { OpenedScan } from "../answers.ts";
import type { Commission } from "../commission.ts";
import { choice, type Graph } from "../graph.ts";

/** In the units and frame of the scan. */
interface MendedScan extends Mended {
	/** Of the mesh with its back. */
	readonly health: ScanHealth;
	readonly firstAddedTriangle: number;
}

/** Mends and backs; each is done again only when its own choices, or the size that gives them their millimetres, change. */
export function* mendStages(
	graph: Graph,
	scan: OpenedScan,
	commission: Commission,
	mmPerUnit: number,
): Job<MendedScan> {
	const { mend: choices, back } = commission.scan;
	const mended = yield* graph.stage("mending", [scan, choice([choices, mmPerUnit])], function* (): Job<MendedScan> {
		const { mesh } = scan.file;
		const known = scan.health;
		const done = yield* within(
			mend(mesh, mendChoices(choices, mmPerUnit), { of: known.places.shellOf, count: known.shells }),
			0,
			0.6,
		);
		const health = done.mesh === mesh ? known : yield* within(examine(done.mesh), 0.6, 1);
		return { ...done, health, firstAddedTriangle: triangleCount(done.mesh) };
	});
	if (back === null) return mended;
	const stance = back.towards === "rim" ? null : commission.model.stance;
	return yield* graph.stage("backing", [mended, choice([back, mmPerUnit, stance])], function* (): Job<MendedScan> {
		const { loops } = mended.health.places;
		const direction = stance === null ? rimDirection(mended.mesh, loops) : along(back.towards, stance);
		const backed = yield* within(backShell(mended.mesh, direction, back.distance_mm / mmPerUnit), 0, 0.6);
		const health = yield* within(examine(backed.mesh), 0.6, 1);
		return { ...mended, ...backed, health };
	});
}

/** Towards the back or the bed of the model as it stands, in the axes of the scan. Mirroring leaves both as they are. */
const along = (towards: "rim" | "back" | "bed", stance: Commission["model"]["stance"]): Vec3 =>
	turnBack(rotationFromQuaternion(stance), towards === "bed" ? [0, 0, -1] : [0, 1, 0]);

/** The carver's choices, whose lengths are mm of the stone figure, in the units of the scan. */
const mendChoices = (chosen: Commission["scan"]["mend"], mmPerUnit: number): MendChoices => ({
	weldWithin: chosen.weldWithin_mm / mmPerUnit,
	dropArealess: chosen.dropArealess,
	dropDoubled: chosen.dropDoubled,
	keepShells: chosen.keepShells ?? (chosen.keepLargestShell ? "largest" : "all"),
	faceOutward: chosen.faceOutward,
	closeHolesUpTo: chosen.closeHolesUpTo_mm / mmPerUnit,
});
