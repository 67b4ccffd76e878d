/** Peak memory of the whole plan of a scan of 1.6 million triangles, file to plan, in a process of its own. */

import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import type { Comparison } from "./harness.ts";

const AIM_GB = 1.2;

export default function memoryBench(): Iterable<Comparison> {
	const script = fileURLToPath(new URL("wholePlan.ts", import.meta.url));
	const { stdout, stderr, status } = spawnSync(process.execPath, ["--import", "tsx", script], { encoding: "utf8" });
	if (status !== 0) throw new Error(stderr);
	const { peakGb, points, triangles } = JSON.parse(stdout) as Record<string, number>;
	const verdict = peakGb <= AIM_GB ? "" : "  MISSED";
	console.log(
		`whole plan of ${(triangles / 1e6).toFixed(2)} million triangles, ${points} points: peak ${peakGb.toFixed(2)} GB  aim ≤ ${AIM_GB}${verdict}`,
	);
	// There is nothing to hold the figure against.
	return [];
}
