import { type ChildProcess, spawn } from "node:child_process";
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { createCommissions } from "../../electron/files/commissions.ts";
import { nodeFiles } from "../../electron/files/fileLayer.ts";
import { bundled } from "../support/bundled.ts";
import { commissionText, scratchFolder } from "../support/places.ts";
import { proving, share } from "../support/prove.ts";

/** A scripted session is killed (SIGKILL) at random instants, opened again, goes on, is killed again … */

const ID = "0123456789abcdef";
/** Sessions on one commission, one after another. */
const IN_A_ROW = 10;

interface Session {
	readonly child: ChildProcess;
	/** States with the moment at which each was made, ms since 1970. */
	made(): { state: number; at: number }[];
	said(word: string): Promise<void>;
	readonly gone: Promise<unknown>;
}

function begin(program: string, home: string): Session {
	const child = spawn(process.execPath, [program, home, ID, commissionText()], {
		stdio: ["ignore", "pipe", "inherit"],
	});
	let words = "";
	child.stdout.on("data", (part: Buffer) => {
		words += part.toString();
	});
	return {
		child,
		made: () => [...words.matchAll(/^made (\d+) at (\d+)$/gm)].map((m) => ({ state: Number(m[1]), at: Number(m[2]) })),
		async said(word) {
			while (!words.includes(`${word}\n`)) {
				if (child.exitCode !== null) throw new Error(`the session ended by itself: ${child.exitCode}`);
				await new Promise((resolve) => setTimeout(resolve, 5));
			}
		},
		gone: new Promise((resolve) => child.once("close", resolve)),
	};
}

describe("a session that is killed", () => {
	it("leaves a commission that is whole and lacks at most the last second", { timeout: 3_000_000 }, async () => {
		const program = await bundled("tests/support/keeper.ts", scratchFolder());
		let seed = 12345;
		let home = "";
		let journals = 0;
		const lost: number[] = [];
		for (let kill = 0; kill < share(300); kill++) {
			if (kill % IN_A_ROW === 0) home = scratchFolder();
			const session = begin(program, home);
			await session.said("kept");
			seed = (seed * 48271) % 2147483647;
			await new Promise((resolve) => setTimeout(resolve, seed % 1500));
			session.child.kill("SIGKILL");
			const killed = Date.now();
			await session.gone;
			const commissions = createCommissions(nodeFiles, home);
			journals += readdirSync(join(home, "commissions")).some((name) => /-[0-9a-f]{16}\.part$/.test(name)) ? 1 : 0;
			expect(await commissions.recents()).toMatchObject([{ id: ID }]);
			const recalled = await commissions.recall(ID);
			expect(recalled.earlier).toBe(false);
			const whole = JSON.parse(recalled.text) as { name: string; log: unknown[] };
			expect(whole.log).toHaveLength(1500);
			const state = Number(whole.name.slice("state ".length));
			const made = session.made();
			const owed = made.filter(({ at }) => at <= killed - 1000).at(-1)?.state ?? 0;
			expect(state, `kill ${kill}`).toBeGreaterThanOrEqual(owed);
			// The age of the oldest change that is missing.
			lost.push(killed - (made.find((one) => one.state > state)?.at ?? killed));
		}
		if (proving) {
			const sorted = [...lost].sort((a, b) => a - b);
			console.log(
				`${lost.length} kills: work lost at most ${sorted.at(-1)} ms, median ${sorted[sorted.length >> 1]} ms; ${journals} left a journal`,
			);
		}
	});
});
