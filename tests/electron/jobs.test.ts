import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { Job } from "../../core/job.ts";
import { Refusal } from "../../core/refusal.ts";
import { nodeFiles } from "../../electron/files/fileLayer.ts";
import { createProgressLine } from "../../electron/progressLine.ts";
import { runJob, Stopped } from "../../electron/runJob.ts";
import { writeSet } from "../../electron/verbs/writeSet.ts";
import { faultyFiles, type Step } from "../support/faultyFiles.ts";
import { put, scratchFolder } from "../support/places.ts";

const going = { aborted: false };
const silent = (): void => {};

/** Yields after every step of about a millisecond, `steps` times. */
function* slowly(steps: number, ended: { value: boolean }): Job<number> {
	try {
		for (let i = 0; i < steps; i++) {
			const until = performance.now() + 1;
			while (performance.now() < until);
			yield { stage: "at work", share: i / steps };
		}
		return steps;
	} finally {
		ended.value = true;
	}
}

describe("a job on this thread", () => {
	it("comes to its result", async () => {
		expect(await runJob(slowly(3, { value: false }), silent, going)).toBe(3);
	});

	it("lets signals and timers in while it works, and stops soon after it is told to", async () => {
		const stop = new AbortController();
		const ended = { value: false };
		let steps = 0;
		// The timer fires only where the thread is given up between slices.
		setTimeout(() => stop.abort(), 30);
		const job = runJob(slowly(60_000, ended), () => steps++, stop.signal);
		await expect(job).rejects.toThrow(Stopped);
		expect(ended.value).toBe(true);
		expect(steps).toBeGreaterThan(0);
	});

	it("passes on what the job throws", async () => {
		function* refusing(): Job<number> {
			throw new Refusal("scan.empty", { name: "x" });
		}
		await expect(runJob(refusing(), silent, going)).rejects.toThrow(Refusal);
	});
});

describe("progress", () => {
	const clockAt = (clock: { ms: number }) => () => clock.ms;

	it("writes over one line on a terminal, and takes it away", () => {
		const written: string[] = [];
		const clock = { ms: 0 };
		const line = createProgressLine({ isTTY: true, write: (text) => written.push(text) }, clockAt(clock));
		for (; clock.ms < 200; clock.ms += 10) line.show({ stage: "reading", share: clock.ms / 1000 });
		expect(written.length).toBe(4);
		expect(written.every((text) => text.startsWith("\r\x1b[2Kreading ") && !text.includes("\n"))).toBe(true);
		line.clear();
		expect(written.at(-1)).toBe("\r\x1b[2K");
	});

	it("writes a line for each stage elsewhere, and one now and then", () => {
		const written: string[] = [];
		const clock = { ms: 0 };
		const line = createProgressLine({ write: (text) => written.push(text) }, clockAt(clock));
		for (; clock.ms < 12_000; clock.ms += 10) {
			line.show({ stage: clock.ms < 1000 ? "reading" : "welding", share: clock.ms / 12_000 });
		}
		line.clear();
		expect(written).toEqual(["reading 0 %\n", "welding 8 %\n", "welding 50 %\n", "welding 91 %\n"]);
	});
});

describe("the files of one plan", () => {
	const isMap = (name: string): boolean => name.startsWith("map-");
	const fresh = new Map([
		["plan.json", "new plan"],
		["sheets.pdf", "new sheets"],
		["map-front.svg", "new front"],
	]);
	function earlier(): string {
		const folder = scratchFolder();
		put(folder, {
			"plan.json": "old plan",
			"map-front.svg": "old front",
			"map-back.svg": "old back",
			"notes.txt": "mine",
		});
		return folder;
	}
	const contents = (folder: string): Record<string, string> =>
		Object.fromEntries(readdirSync(folder).map((name) => [name, readFileSync(join(folder, name), "utf8")]));

	it("take the place of those of an earlier plan", async () => {
		const folder = earlier();
		await writeSet(nodeFiles, folder, fresh, isMap, going);
		expect(contents(folder)).toEqual({ ...Object.fromEntries(fresh), "notes.txt": "mine" });
	});

	const faults: [Step, string, number, string][] = [
		["write", "ENOSPC", 1, "files.full"],
		["write", "ENOSPC", 3, "files.full"],
		["write", "EACCES", 2, "files.denied"],
		["makeFolder", "EROFS", 1, "files.denied"],
		["list", "EIO", 1, "files.failed"],
	];
	it.each(faults)("leave the folder as it was when %s fails with %s at call %i", async (step, code, from, expected) => {
		const folder = earlier();
		const before = contents(folder);
		const written = writeSet(faultyFiles(step, code, from), folder, fresh, isMap, going);
		await expect(written).rejects.toMatchObject({ issue: { code: expected } });
		expect(contents(folder)).toEqual(before);
	});

	it.each([0, 1, 2, 3])("leave the folder as it was when stopped after %i of them", async (count) => {
		const folder = earlier();
		const before = contents(folder);
		const stop = { aborted: count === 0 };
		let writes = 0;
		const layer = {
			...nodeFiles,
			async write(path: string, bytes: Uint8Array) {
				await nodeFiles.write(path, bytes);
				stop.aborted = ++writes === count;
			},
		};
		await expect(writeSet(layer, folder, fresh, isMap, stop)).rejects.toThrow(Stopped);
		expect(contents(folder)).toEqual(before);
	});
});
