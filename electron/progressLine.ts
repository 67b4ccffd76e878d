/** What a long computation is doing, on standard error: one line written over on a terminal, a few plain ones elsewhere. */

import type { Progress } from "../core/job.ts";

export interface ProgressLine {
	show(progress: Progress): void;
	/** Takes the line away, so that what is written next stands alone. */
	clear(): void;
}

interface Terminal {
	readonly isTTY?: boolean;
	write(text: string): unknown;
}

/** Shortest time between two writings, ms: on a terminal, and where every line stays. */
const TERMINAL_MS = 60;
const PLAIN_MS = 5_000;

export function createProgressLine(to: Terminal, now: () => number = () => performance.now()): ProgressLine {
	let last = Number.NEGATIVE_INFINITY;
	let stage = "";
	let shown = false;
	return {
		show(progress) {
			const due = now() - last >= (to.isTTY ? TERMINAL_MS : PLAIN_MS);
			if (!due && (to.isTTY || progress.stage === stage)) return;
			last = now();
			stage = progress.stage;
			const words = `${stage} ${Math.floor(progress.share * 100)} %`;
			to.write(to.isTTY ? `\r\x1b[2K${words}` : `${words}\n`);
			shown = true;
		},
		clear() {
			if (to.isTTY && shown) to.write("\r\x1b[2K");
			shown = false;
		},
	};
}
