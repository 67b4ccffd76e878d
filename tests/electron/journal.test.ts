import { createHash } from "node:crypto";
import { readdirSync, readFileSync, utimesSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { type Commissions, createCommissions, type KeepingAs } from "../../electron/files/commissions.ts";
import { type FileLayer, nodeFiles } from "../../electron/files/fileLayer.ts";
import { journalPath, readJournalName } from "../../electron/files/journal.ts";
import { faultyFiles } from "../support/faultyFiles.ts";
import { commissionText, put, scratchFolder } from "../support/places.ts";
import { powerDisk } from "../support/powerCut.ts";

/** The program ends at any instant, its machine loses its power, its disk is full for a moment: what is found afterwards. */

const ID = "0123456789abcdef";
const versionOf = (text: string): string => createHash("sha256").update(text).digest("hex");
const by = (writer: string, ...seen: string[]): KeepingAs => ({ scanPath: null, stonePath: null, writer, seen });
const [BEGUN, BEFORE, NEXT] = ["begun", "before", "next"].map((name) => commissionText(name));

/** The files as they were when the layer stopped answering: before its n-th step from here, or half through it. */
function stoppingFiles(stopAt: number): { layer: FileLayer; stopped: Promise<void>; steps: () => number } {
	let steps = 0;
	let stop: () => void = () => {};
	const stopped = new Promise<void>((resolve) => {
		stop = resolve;
	});
	const never = new Promise<never>(() => {});
	const layer = { ...nodeFiles } as Record<string, (...given: unknown[]) => Promise<unknown>>;
	for (const name of ["write", "rename", "remove", "makeFolder", "flushFolder"] as const) {
		const run = nodeFiles[name] as (...given: unknown[]) => Promise<unknown>;
		layer[name] = async (...given) => {
			if (++steps === stopAt) {
				if (name === "write") await run(given[0], (given[1] as Uint8Array).subarray(0, 40));
				stop();
			}
			return steps >= stopAt ? never : run(...given);
		};
	}
	return { layer: layer as unknown as FileLayer, stopped, steps: () => steps };
}

describe("a program that ends in the middle of keeping", () => {
	it("leaves the text before or the next one, whole, whichever step it ended at, and goes on from there", async () => {
		const found: string[] = [];
		for (let stopAt = 1; ; stopAt++) {
			const home = scratchFolder();
			await createCommissions(nodeFiles, home).keep(ID, BEFORE, by("window1"));
			const { layer, stopped, steps } = stoppingFiles(stopAt);
			const keeping = createCommissions(layer, home).keep(ID, NEXT, by("window2", versionOf(BEFORE)));
			const done = await Promise.race([keeping.then(() => true), stopped.then(() => false)]);
			const after = createCommissions(nodeFiles, home);
			const recalled = await after.recall(ID);
			expect([BEFORE, NEXT], `stopped at step ${stopAt}`).toContain(recalled.text);
			expect(recalled.earlier).toBe(false);
			found.push(recalled.text === NEXT ? "next" : "before");
			expect(await after.recents()).toHaveLength(1);
			// The next window goes on with what it was given, and what was left over does not come back.
			await after.keep(ID, commissionText("later"), by("window3", recalled.version));
			await after.keep(ID, BEFORE, by("window3", versionOf(commissionText("later"))));
			expect((await after.recall(ID)).text, `stopped at step ${stopAt}`).toBe(BEFORE);
			if (done) {
				expect(steps()).toBe(stopAt - 1);
				break;
			}
		}
		// From the moment at which the whole text was on the disk it is the one that is found, renamed or not.
		const turned = found.indexOf("next");
		expect(turned).toBeGreaterThan(0);
		expect(new Set(found.slice(turned))).toEqual(new Set(["next"]));
		expect(found.length - turned).toBeGreaterThanOrEqual(7);
	});

	it("gives back even the first text of a commission from its journal, and nothing from a torn one", async () => {
		const seen: string[] = [];
		for (let stopAt = 1; stopAt <= 12; stopAt++) {
			const home = scratchFolder();
			const { layer, stopped } = stoppingFiles(stopAt);
			const keeping = createCommissions(layer, home).keep(ID, BEGUN, by("window1"));
			await Promise.race([keeping, stopped]);
			const after = createCommissions(nodeFiles, home);
			const recents = await after.recents();
			seen.push(recents.length === 1 ? (await after.recall(ID)).text : "nothing");
		}
		expect(seen[0]).toBe("nothing");
		expect(seen.at(-1)).toBe(BEGUN);
		expect(new Set(seen)).toEqual(new Set(["nothing", BEGUN]));
	});
});

describe("a power cut", () => {
	it("at any step, with any of the names lost that were not flushed, leaves one of the two texts whole", async () => {
		const start = powerDisk();
		await createCommissions(start.layer, "/home").keep(ID, BEFORE, by("window1"));
		expect(start.unflushed(), "kept, but not safe").toBe(0);
		const there = start.found(() => true);
		const keep = (commissions: Commissions) => commissions.keep(ID, NEXT, by("window2", versionOf(BEFORE)));
		const whole = powerDisk(there);
		await keep(createCommissions(whole.layer, "/home"));
		expect(whole.unflushed()).toBe(0);
		let cases = 0;
		const found = new Set<string>();
		for (let cutAt = 1; cutAt <= whole.steps(); cutAt++) {
			const disk = powerDisk(there, cutAt);
			await expect(keep(createCommissions(disk.layer, "/home"))).rejects.toThrow();
			for (let mask = 0; mask < 1 << disk.unflushed(); mask++) {
				const left = powerDisk(disk.found((change) => ((mask >> change) & 1) === 1));
				const recalled = await createCommissions(left.layer, "/home").recall(ID);
				expect([BEFORE, NEXT], `cut at ${cutAt}, ${mask.toString(2)}`).toContain(recalled.text);
				expect(recalled.earlier).toBe(false);
				found.add(recalled.text);
				cases++;
			}
		}
		expect(found.size).toBe(2);
		expect(cases).toBeGreaterThan(25);
	});
});

describe("what a change costs", () => {
	it("is one file brought to the disk, so that a slow one keeps up", async () => {
		let written: string[] = [];
		const layer: FileLayer = {
			...nodeFiles,
			async write(path, bytes) {
				written.push(path);
				return nodeFiles.write(path, bytes);
			},
		};
		const home = scratchFolder();
		let at = Date.UTC(2030, 0, 1);
		const commissions = createCommissions(layer, home, () => new Date(at));
		const texts = [BEFORE, ...Array.from({ length: 4 }, () => BEGUN.replace('"log":[]', '"log":[] ')), NEXT];
		const seen: string[] = [];
		const counts: number[] = [];
		for (const [i, text] of texts.entries()) {
			const next = `${text}${" ".repeat(i)}`;
			written = [];
			await commissions.keep(ID, next, by("window1", ...seen));
			counts.push(written.length);
			seen.push(versionOf(next));
			at += 1000;
		}
		// Notes with the first, and with each new name of the commission.
		expect(counts).toEqual([2, 2, 1, 1, 1, 2]);
		at += 20_000;
		await commissions.keep(ID, `${NEXT} `, by("window1", ...seen));
		expect((await commissions.recents())[0].changed).toBe(new Date(at).toISOString());
	});
});

describe("what is left over", () => {
	it("is read only where it is whole and follows what stands there", async () => {
		const home = scratchFolder();
		const commissions = createCommissions(nodeFiles, home);
		await commissions.keep(ID, BEFORE, by("window1"));
		const path = join(home, "commissions", `${ID}.commission.json`);
		const leave = (from: string, to: string, text: string): string => {
			const name = journalPath(path, versionOf(from), versionOf(to));
			writeFileSync(name, text);
			return name;
		};
		const stale = leave(BEGUN, NEXT, NEXT);
		const torn = leave(BEFORE, NEXT, NEXT.slice(0, -1));
		expect((await commissions.recall(ID)).text).toBe(BEFORE);
		writeFileSync(torn, NEXT);
		expect((await commissions.recall(ID)).text).toBe(NEXT);
		// Clearing up takes the old one away and leaves what is still to be read, however old.
		for (const name of [stale, torn]) utimesSync(name, 1000, 1000);
		expect(await commissions.recents()).toHaveLength(1);
		expect(readdirSync(join(home, "commissions")).filter((name) => name.endsWith(".part"))).toEqual([
			torn.slice(torn.lastIndexOf("/") + 1),
		]);
		expect((await commissions.recall(ID)).text).toBe(NEXT);
	});

	it("names what it follows", () => {
		const name = journalPath("/a/x.commission.json", null, versionOf(NEXT));
		expect(readJournalName(name.slice(3))).toEqual({
			of: "x.commission.json",
			from: "0".repeat(16),
			to: versionOf(NEXT).slice(0, 16),
		});
		for (const other of ["x.commission.json", "x.commission.json.0123456789ab.part", "x.part", ""])
			expect(readJournalName(other), other).toBeNull();
	});
});

describe("a disk that is full for a moment", () => {
	it.each([1, 2, 3, 4])("at the write %i does not make two commissions of one", async (which) => {
		const home = scratchFolder();
		await createCommissions(nodeFiles, home).keep(ID, BEGUN, by("window1"));
		const full = createCommissions(faultyFiles("write", "ENOSPC", which, which), home);
		// As the window asks: what it began with, and whatever it has sent.
		const seen = [versionOf(BEGUN)];
		for (const text of [BEFORE, NEXT]) {
			seen.push(versionOf(text));
			await full.keep(ID, text, by("window2", ...seen)).catch(() => full.keep(ID, text, by("window2", ...seen)));
		}
		expect((await full.recall(ID)).text).toBe(NEXT);
		expect(await full.recents()).toHaveLength(1);
	});
});

describe("another program that writes while the new text is on its way to the disk", () => {
	it("is noticed before its text is replaced", async () => {
		const home = scratchFolder();
		const path = join(home, "commissions", `${ID}.commission.json`);
		await createCommissions(nodeFiles, home).keep(ID, BEFORE, by("window1"));
		const layer: FileLayer = {
			...nodeFiles,
			async write(to, bytes) {
				await nodeFiles.write(to, bytes);
				if (to.startsWith(path)) put(join(home, "commissions"), { [`${ID}.commission.json`]: BEGUN });
			},
		};
		const late = createCommissions(layer, home).keep(ID, NEXT, by("window2", versionOf(BEFORE)));
		await expect(late).rejects.toMatchObject({ issue: { code: "files.changedMeanwhile" } });
		expect(readFileSync(path, "utf8")).toBe(BEGUN);
		expect((await createCommissions(nodeFiles, home).recall(ID)).text).toBe(BEGUN);
	});
});
