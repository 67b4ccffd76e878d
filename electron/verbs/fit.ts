/** `fit SCAN --block LxWxH`: whether and how the figure fits in a block, with the proof both ways. */

import { modelFrame } from "../../core/model/modelFrame.ts";
import { Refusal } from "../../core/refusal.ts";
import { FIT_TOLERANCE, fitBlock, type Margins } from "../../core/stone/fitBlock.ts";
import { convexHull } from "../../core/stone/hull.ts";
import { dryMass, weighingOf } from "../../core/stone/mass.ts";
import { type LargestScale, largestScale, smallestBlock } from "../../core/stone/sizes.ts";
import { massRangeText } from "../../core/text/format.ts";
import { refusalText } from "../../core/text/refusals.ts";
import type { Vec3 } from "../../core/vector.ts";
import {
	lengthOption,
	numberOption,
	plainOption,
	readOptions,
	SCAN_OPTIONS,
	sidesOption,
	takingOf,
} from "./options.ts";
import { settled, takeIn } from "./takeIn.ts";
import type { Row, Shop, Verb } from "./verb.ts";

const OPTIONS = {
	...SCAN_OPTIONS,
	block: "text",
	margin: "text",
	upright: "flag",
	tolerance: "text",
	stone: "text",
} as const;

const AS_SCANNED = [0, 0, 0, 1] as const;

const sidesText = (sides: readonly number[], digits = 1): string =>
	`${sides.map((side) => side.toFixed(digits)).join(" × ")} mm`;

/** null where the margins alone use the block up. */
async function largestIn(shop: Shop, ...question: Parameters<typeof largestScale>): Promise<LargestScale | null> {
	try {
		return await shop.run(largestScale(...question));
	} catch (error) {
		if (error instanceof Refusal && error.issue.code === "stone.marginsUseUp") return null;
		throw error;
	}
}

export const fit: Verb = async (argv, shop) => {
	const { values, plain } = readOptions("fit", argv, OPTIONS, { what: "a scan" });
	const taking = takingOf(values);
	const block = sidesOption(values, "block");
	if (block === undefined) throw new Refusal("command.missing", { verb: "fit", what: "a block (--block 240x220x460)" });
	const tolerance = numberOption(values, "tolerance") ?? FIT_TOLERANCE;
	const margin = lengthOption(values, "margin") ?? 0;
	const margins: Margins = { bed: margin, top: margin, front: margin, back: margin, left: margin, right: margin };
	const turning = { kind: values.upright === true ? "upright" : "free" } as const;
	const weighing = weighingOf(plainOption(values, "stone") ?? "marble");

	const scan = await takeIn(plain[0], shop);
	const { unit, reason, mmPerUnit } = settled(scan, taking);
	const frame = modelFrame(scan.file.mesh, scan.file.origin, {
		mmPerUnit,
		mirrored: taking.mirrored,
		quaternion: AS_SCANNED,
	});
	const hull = await shop.run(convexHull(frame.mesh.positions));
	const found = await shop.run(fitBlock(hull, block, { turning, margins, tolerance }));
	const smallest = await shop.run(smallestBlock(hull, { turning, margins }));
	const largest = await largestIn(shop, hull, block, { turning, margins });

	const volume = scan.health.volume === null ? null : Math.abs(scan.health.volume) * mmPerUnit * mmPerUnit * mmPerUnit;
	const blockVolume = block[0] * block[1] * block[2];
	const stoneMass = dryMass(blockVolume, weighing);
	const figureMass = volume === null ? null : dryMass(volume, weighing);
	const wasteShare = volume === null ? null : 1 - volume / blockVolume;
	const json = {
		file: scan.name,
		unit: { chosen: unit, reason: refusalText(reason) },
		size_mm: [0, 1, 2].map((k) => frame.max[k] - frame.min[k]),
		/** Row-major 4 × 4, scan coordinates → model frame, from which `placement` leads on to the stone. */
		toModel: frame.toModel,
		block_mm: block,
		margin_mm: margin,
		turning: turning.kind,
		fits: found.fits,
		clearance_mm: found.clearance,
		spare_mm: found.spare,
		clearanceBound_mm: found.clearanceBound,
		certified: found.certified,
		placement: found.placement,
		perFace: found.gaps.map(({ face, gap, margin: wished, touching, touchingInStone }) => ({
			face,
			gap_mm: gap,
			margin_mm: wished,
			touching_mm: touching,
			touchingInStone_mm: touchingInStone,
		})),
		largestScale: largest?.scale ?? null,
		largestScaleBound: largest?.bound ?? null,
		smallestBlock_mm: smallest.sides,
		smallestBlockBound_mm3: smallest.bound,
		smallestBlockCertified: smallest.certified,
		sawnBlock_mm: smallest.sawn,
		wasteShare,
		stone_kg: stoneMass,
		figure_kg: figureMass,
	};
	const proof = found.certified ? "proved" : `not proved; at best ${found.clearanceBound.toFixed(2)} mm`;
	const rows: Row[] = [
		["scan", `${scan.name}, ${sidesText(json.size_mm)}`],
		["block", `${sidesText(block)}, ${massRangeText(...stoneMass)} dry`],
		["lying", values.upright === true ? "upright, turned about the vertical" : "turned any way round"],
		["fits", found.fits ? "yes" : "no"],
		["to spare", `${found.spare.toFixed(2)} mm over the margin of ${margin.toFixed(1)} mm`],
		["least gap", `${found.clearance.toFixed(2)} mm, ${proof}`],
		...found.gaps.map(({ face, gap }): Row => [`  to ${face}`, `${gap.toFixed(1)} mm`]),
		["largest size", largest ? `${largest.scale.toFixed(4)} times as large` : "none: the margins use the block up"],
		["smallest block", `${sidesText(smallest.sides)}, sawn ${sidesText(smallest.sawn as Vec3, 0)}`],
		["figure", figureMass ? `${massRangeText(...figureMass)} dry` : "no mass, the surface is open"],
		["waste", wasteShare === null ? "not known, the surface is open" : `${(100 * wasteShare).toFixed(0)} %`],
	];
	return { json, rows };
};
