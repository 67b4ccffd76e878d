/** What a worker of the yard does: it holds the figure, and fits it into one stone after another. */

import { type Job, within } from "../../core/job.ts";
import type { Commission } from "../../core/plan/commission.ts";
import { openScan } from "../../core/plan/planner.ts";
import { fitShape } from "../../core/plan/stages/fitShape.ts";
import type { StoneShape } from "../../core/plan/stages/stoneShape.ts";
import { describedOfYard, scannedOfYard, type YardMeasure } from "../../core/plan/yard.ts";
import type { TriangleMesh } from "../../core/scan/mesh.ts";
import type { ScanSource } from "../../core/scan/source.ts";
import type { Unit } from "../../core/scan/unit.ts";
import type { FitOptions } from "../../core/stone/fitBlock.ts";
import type { Hull } from "../../core/stone/hull.ts";
import type { Vec3 } from "../../core/vector.ts";
import type { JobMakers } from "./jobServer.ts";
import { handleName, type ScanHandle } from "./sources.ts";

export interface YardFigure {
	/** Model frame, mm; asked for only by a scanned stone. */
	readonly mesh: TriangleMesh | null;
	/** Its hull with the holding foot. */
	readonly held: Hull;
	readonly options: Omit<FitOptions, "enough">;
}

/** A stone as a commission describes it, or its scan. */
export type YardStone =
	| { readonly kind: "described"; readonly name: string; readonly stone: Commission["stone"] }
	| { readonly kind: "scan"; readonly handle: ScanHandle; readonly unit: Unit | null };

export interface YardFit extends YardMeasure {
	/** Proved: no allowed placement spares more, mm. */
	readonly bound: number;
	readonly certified: boolean;
	/** A stone with hollows, where only the bound is a proof. */
	readonly searched: boolean;
	/** Extent of the stone along its axes, mm. */
	readonly extent: Vec3;
}

export type YardJobs = {
	/** The figure that every stone after it is checked against. */
	take: { input: YardFigure; output: null };
	check: { input: { readonly stone: YardStone }; output: YardFit };
};

export function yardJobs(source: (handle: ScanHandle) => ScanSource): JobMakers<YardJobs> {
	let figure: YardFigure | null = null;
	return {
		*take(given) {
			figure = given;
			return { output: null, transfer: [] };
		},
		*check({ stone }) {
			if (!figure) throw new Error("A stone was handed to the yard before the figure.");
			const { mesh, held, options } = figure;
			const shape = yield* within(shapeOf(stone, source), 0, stone.kind === "scan" ? 0.3 : 0.02);
			// Only a scan asks the mesh, and then the figure was given with it.
			const asked = mesh ?? { positions: held.vertices, triangles: held.triangles };
			const fit = yield* within(fitShape(asked, held, shape, options), 0.3, 1);
			const { fits, spare, bound, certified } = fit;
			return {
				output: {
					fits,
					spare,
					bound,
					certified,
					searched: shape.scanned !== null && !certified,
					volume: shape.scanned?.volume ?? shape.stone.volume,
					extent: shape.extent,
				},
				transfer: [],
			};
		},
	};
}

function* shapeOf(stone: YardStone, source: (handle: ScanHandle) => ScanSource): Job<StoneShape> {
	if (stone.kind === "described") return yield* describedOfYard(stone.stone, stone.name);
	const scan = yield* within(openScan(source(stone.handle), handleName(stone.handle)), 0, 0.5);
	return (yield* within(scannedOfYard(scan, stone.unit ?? undefined), 0.5, 1)).shape;
}
