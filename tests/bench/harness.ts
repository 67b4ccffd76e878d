/** Benchmarks as ratios: ours against a general-purpose library, in one process, in turn, on the same seeded input. */

export interface Comparison {
	readonly name: string;
	/** What stands against ours, with the library's name. */
	readonly against: string;
	/** Ratio that is aimed at, ours ÷ theirs; printed, never asserted, because machines are noisy. */
	readonly aim: number | null;
	readonly runs?: number;
	/** Many seeded cases instead of one: the ratio is of the median case, and the worst is printed beside it. */
	readonly cases?: readonly (() => unknown)[];
	/** Longest that the median case of ours may take, ms; printed like `aim`. */
	readonly within?: number;
	ours(): unknown;
	theirs(): unknown;
	/** Throws when the two answers do not agree. */
	agree(ours: unknown, theirs: unknown): void;
}

/** Something counted, not timed, told in one line. */
export interface Finding {
	readonly line: string;
}

export type BenchFile = () => Iterable<Comparison | Finding> | Promise<Iterable<Comparison | Finding>>;

export const median = (values: readonly number[]): number => {
	const sorted = [...values].sort((a, b) => a - b);
	const half = sorted.length >> 1;
	return sorted.length % 2 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
};

/** Before every timed run: else ours would clear away what theirs leaves, and the other way round. */
export function collectGarbage(): void {
	if (!globalThis.gc)
		throw new Error("start with npm run bench: node --expose-gc lets garbage be collected between runs");
	globalThis.gc();
}

const timed = (run: () => unknown): [number, unknown] => {
	const start = performance.now();
	const answer = run();
	return [performance.now() - start, answer];
};

/** Runs one comparison: a warm-up that also checks the answers, then at least five runs in turn. */
export function compare(c: Comparison): { ratio: number; line: string } {
	c.agree(c.ours(), c.theirs());
	const ours: number[] = [];
	const theirs: number[] = [];
	let sink: unknown;
	for (let i = 0; i < Math.max(5, c.runs ?? 5); i++) {
		// Which of the two goes first changes, so that neither always finds the warmer machine.
		const order = i % 2 ? ([theirs, ours] as const) : ([ours, theirs] as const);
		for (const times of order) {
			collectGarbage();
			const [time, answer] = timed(times === ours ? c.ours : c.theirs);
			times.push(time);
			sink = answer;
		}
	}
	const perCase = (c.cases ?? []).map((run) => {
		collectGarbage();
		const [time, answer] = timed(run);
		sink = answer;
		return time;
	});
	if (sink === undefined) throw new Error(`${c.name}: a run gave nothing`);
	const usual = perCase.length > 0 ? perCase : ours;
	const ratio = median(usual) / median(theirs);
	const missed = (kept: boolean): string => (kept ? "" : "  MISSED");
	const within = c.within === undefined ? "" : `  aim ≤ ${c.within} ms${missed(median(usual) <= c.within)}`;
	const spread = perCase.length > 0 ? `  ${perCase.length} cases, worst ${Math.max(...perCase).toFixed(1)} ms` : "";
	const aim = `${spread}${c.aim === null ? "" : `  aim ≤ ${c.aim}${missed(ratio <= c.aim)}`}${within}`;
	return {
		ratio,
		line: `${c.name.padEnd(58)} ${ratio.toFixed(3).padStart(8)} × ${c.against}  (${median(usual).toFixed(1)} / ${median(theirs).toFixed(1)} ms)${aim}`,
	};
}
