/** The stone that the commission describes, in whichever way: sawn, measured, by its faces, or by its own scan. */

import { type Job, within } from "../../job.ts";
import { Refusal } from "../../refusal.ts";
import { MM_PER_UNIT } from "../../scan/unit.ts";
import { type Block, boundsOfStone, movedStone, type Stone, stoneOf } from "../../stone/block.ts";
import { type Break, brokenBlock, brokenMeasured } from "../../stone/breaks.ts";
import { BLOCK_READINGS, type MeasuredBlock, measuredBlock } from "../../stone/measuredBlock.ts";
import { type ScannedStone, scannedStone } from "../../stone/scannedStone.ts";
import { scale, type Vec3 } from "../../vector.ts";
import type { OpenedScan } from "../answers.ts";
import type { Commission } from "../commission.ts";

export interface StoneShape {
	readonly stone: Stone;
	/** Extent along x, y and z from the origin, mm; the sides of a block. */
	readonly extent: Vec3;
	/** What the tape found, when the block was measured. */
	readonly measured: MeasuredBlock | null;
	/** The stone's own scan, when it was scanned. */
	readonly scanned: ScannedStone | null;
	/** From the stone frame to the coordinates in which it was given (of a scan: as read, recentred, × mm): add this, mm. */
	readonly fromGiven: Vec3;
}

type Described = Commission["stone"];

/** The breaks as the geometry wants them. */
const breaksOf = (breaks: Described["breaks"]): Break[] =>
	breaks.map((broken) =>
		broken.kind === "off"
			? { kind: "off", faces: broken.faces, reach: broken.reach_mm }
			: { kind: "plane", through: broken.through_mm },
	);

/** A block with these sides and the commission's breaks. */
export function sawnShape(sides: Vec3, breaks: Described["breaks"]): StoneShape {
	const block: Block = breaks.length === 0 ? { kind: "box", size: sides } : brokenBlock(sides, breaksOf(breaks));
	return { stone: stoneOf(block), extent: sides, measured: null, scanned: null, fromGiven: [0, 0, 0] };
}

/** The stone described; null where nothing is given and a block is to be assumed. Refuses what is described by halves. */
export function* stoneShape(described: Described, stoneScan: OpenedScan | null): Job<StoneShape | null> {
	switch (described.given) {
		case "sides":
			return described.block_mm && sawnShape(described.block_mm, described.breaks);
		case "measured":
			return measuredShape(described);
		case "planes": {
			if (!described.planes) throw new Refusal("stone.noFaces", {});
			const planes = Float64Array.from(described.planes.flat());
			return shifted(stoneOf({ kind: "planes", planes }));
		}
		case "scan":
			return yield* scanShape(described, stoneScan);
	}
}

function measuredShape({ measured_mm, breaks }: Described): StoneShape {
	const read = measured_mm ?? BLOCK_READINGS.map(() => null);
	const missing = read.indexOf(null);
	if (missing >= 0) {
		const left = read.filter((length) => length === null).length;
		throw new Refusal("stone.readingsMissing", { left, next: BLOCK_READINGS[missing].words });
	}
	const measured = measuredBlock(read.map((length) => length ?? 0));
	const sides: Vec3 = [measured.corners[1][0], measured.corners[2][1], measured.corners[4][2]];
	const stone = stoneOf(brokenMeasured(measured.planes, sides, breaksOf(breaks)));
	const { max } = boundsOfStone(stone);
	return { stone, extent: max, measured, scanned: null, fromGiven: [0, 0, 0] };
}

function* scanShape({ scan }: Described, opened: OpenedScan | null): Job<StoneShape> {
	if (!scan) throw new Refusal("stone.noScan", {});
	if (!opened || (scan.sha256 !== "" && opened.sha256 !== scan.sha256))
		throw new Refusal("stone.scanMissing", { name: scan.file });
	const unit = scan.unit ?? opened.unit.unit;
	if (unit === null) throw new Refusal("unit.inDoubt", { name: opened.name, ...opened.unit.reason.facts });
	const scanned = yield* within(scannedStone(opened.file.mesh, MM_PER_UNIT[unit], opened.name), 0, 1);
	const { max } = boundsOfStone(scanned.stone);
	return { stone: scanned.stone, extent: max, measured: null, scanned, fromGiven: scale(scanned.shift, -1) };
}

/** Moved so that its bounds begin at the origin. */
function shifted(stone: Stone): StoneShape {
	const { min } = boundsOfStone(stone);
	const moved = movedStone(stone, scale(min, -1));
	return { stone: moved, extent: boundsOfStone(moved).max, measured: null, scanned: null, fromGiven: min };
}
