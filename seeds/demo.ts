/** A seed as an ordinary commission: its scan as the bytes of a file, and what its carver entered. */

import { type Job, within } from "../core/job.ts";
import { type Commission, FACES, newCommission } from "../core/plan/commission.ts";
import { writeBinaryPly, writeBinaryStl } from "../core/scan/writeScan.ts";
import type { Seed } from "./index.ts";

/** The bytes of the scan file, so that a demo is read in like any other scan, from memory or from the disk. */
export function* demoScan(seed: Seed): Job<Uint8Array> {
	const mesh = yield* within(seed.make(), 0, 0.95);
	yield { stage: "writing the scan", share: 0.95 };
	return seed.fileName.endsWith(".ply") ? writeBinaryPly(mesh) : writeBinaryStl(mesh);
}

export function demoCommission(seed: Seed): Commission {
	const { blockMm, marginMm, stone, backMm, lies, counts } = seed.commission;
	const plain = newCommission(seed.fileName);
	const margins = Object.fromEntries(
		FACES.map((face) => [face, backMm !== null && face === "back" ? 0 : marginMm]),
	) as Commission["stone"]["margins_mm"];
	return {
		...plain,
		name: seed.title,
		scan: { ...plain.scan, back: backMm === null ? null : { towards: "back", distance_mm: backMm } },
		transfer: "faces",
		stone: {
			...plain.stone,
			kind: stone,
			block_mm: [blockMm[0], blockMm[1], blockMm[2]],
			margins_mm: margins,
			turning: "as stood",
		},
		lies,
		rounds: plain.rounds.map((round, i) => ({ ...round, count: counts[i] ?? null })),
	};
}
