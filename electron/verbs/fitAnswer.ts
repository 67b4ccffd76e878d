/** One stone's answer as `fit` gives it, and what a worker of the yard hands back. */

import type { StoneFit } from "../../core/stone/fitBlock.ts";
import type { Vec3 } from "../../core/vector.ts";
import type { StoneOnFile } from "./stoneFiles.ts";

export interface FitAnswer {
	readonly name: string;
	readonly block_mm: Vec3 | null;
	/** nx, ny, nz, b in the coordinates of the stone's file, mm; null for a plain block. */
	readonly planes: readonly (readonly [number, number, number, number])[] | null;
	readonly fits: boolean;
	readonly clearance_mm: number;
	readonly spare_mm: number;
	readonly clearanceBound_mm: number;
	readonly certified: boolean;
	/** Whether the placement was searched for in a stone with hollows, where only the bound is a proof. */
	readonly searched: boolean;
	readonly placement: StoneFit["placement"];
	readonly perFace: readonly {
		readonly face: string;
		readonly gap_mm: number;
		readonly margin_mm: number;
		readonly touching_mm: Vec3;
		readonly touchingInStone_mm: Vec3;
	}[];
	readonly stone_mm3: number;
}

export function fitAnswer({ name, shape, toFile }: StoneOnFile, found: StoneFit): FitAnswer {
	const { stone, extent, scanned } = shape;
	const inFile = ([x, y, z]: Vec3): Vec3 => [x + toFile[0], y + toFile[1], z + toFile[2]];
	const { kind } = stone.block;
	return {
		name,
		block_mm: kind === "planes" ? null : extent,
		planes:
			kind === "box"
				? null
				: stone.faces.map(({ normal: [x, y, z], offset }) => [
						x,
						y,
						z,
						offset + x * toFile[0] + y * toFile[1] + z * toFile[2],
					]),
		fits: found.fits,
		clearance_mm: found.clearance,
		spare_mm: found.spare,
		clearanceBound_mm: found.clearanceBound,
		certified: found.certified,
		searched: scanned !== null && !found.certified,
		placement: { rotation: found.placement.rotation, translation: inFile(found.placement.translation) },
		perFace: found.gaps.map(({ face, gap, margin, touching, touchingInStone }) => ({
			face,
			gap_mm: gap,
			margin_mm: margin,
			touching_mm: touching,
			touchingInStone_mm: inFile(touchingInStone),
		})),
		stone_mm3: scanned?.volume ?? stone.volume,
	};
}
