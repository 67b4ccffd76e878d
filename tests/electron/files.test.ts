import { createHash } from "node:crypto";
import {
	existsSync,
	mkdirSync,
	readdirSync,
	readFileSync,
	renameSync,
	rmSync,
	utimesSync,
	writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { Refusal } from "../../core/refusal.ts";
import { filesRefusals } from "../../core/text/filesRefusals.ts";
import { type Commissions, createCommissions, type KeepingAs } from "../../electron/files/commissions.ts";
import { nodeFiles } from "../../electron/files/fileLayer.ts";
import { openFileSource } from "../../electron/files/fileSource.ts";
import { findScan } from "../../electron/files/findScan.ts";
import { versionOf } from "../../electron/files/journal.ts";
import { replaceFile } from "../../electron/files/replaceFile.ts";
import { createScanGrants } from "../../electron/files/scanGrants.ts";
import { userFolder } from "../../electron/files/userFolder.ts";
import { faultyFiles, type Step } from "../support/faultyFiles.ts";
import { commissionText, put, scratchFolder } from "../support/places.ts";

const ID = "0123456789abcdef";
const by = (scanPath: string | null, writer = "window1", ...seen: string[]): KeepingAs => ({
	scanPath,
	stonePath: null,
	writer,
	seen,
});
/** A window that knows what it has sent. */
function windowOn(commissions: Commissions, id = ID, scanPath: string | null = null) {
	const seen: string[] = [];
	return (sent: string, path = scanPath): Promise<unknown> => {
		seen.push(versionOf(text(sent)));
		return commissions.keep(id, sent, by(path, "window1", ...seen));
	};
}
const text = (words: string): Uint8Array => new TextEncoder().encode(words);

async function refusal(promise: Promise<unknown>): Promise<Refusal> {
	try {
		await promise;
	} catch (error) {
		if (error instanceof Refusal) return error;
		throw error;
	}
	throw new Error("nothing was refused");
}

describe("replacing a file", () => {
	it("puts the bytes there, in a folder made for them", async () => {
		const path = join(scratchFolder(), "a", "b", "plan.json");
		await replaceFile(nodeFiles, path, text("first"));
		await replaceFile(nodeFiles, path, text("second, longer"));
		expect(readFileSync(path, "utf8")).toBe("second, longer");
		expect(readdirSync(join(path, ".."))).toEqual(["plan.json"]);
	});

	const faults: [Step, string, string][] = [
		["write", "ENOSPC", "files.full"],
		["write", "EDQUOT", "files.full"],
		["write", "EACCES", "files.denied"],
		["write", "EIO", "files.failed"],
		["rename", "EACCES", "files.denied"],
		["rename", "ENOSPC", "files.full"],
		["rename", "EBUSY", "files.busy"],
		["makeFolder", "EROFS", "files.denied"],
		["makeFolder", "ENOTDIR", "files.notFolder"],
	];
	it.each(faults)("leaves the old file whole when %s fails with %s", async (step, code, expected) => {
		const folder = scratchFolder();
		const path = join(folder, "plan.json");
		writeFileSync(path, "old");
		const { issue } = await refusal(replaceFile(faultyFiles(step, code), path, text("new and longer")));
		expect(issue.code).toBe(expected);
		expect(readFileSync(path, "utf8")).toBe("old");
		expect(readdirSync(folder)).toEqual(["plan.json"]);
		const sentence = filesRefusals[issue.code](issue.facts);
		expect(sentence).toContain(path);
		expect(sentence).not.toContain("\n");
	});

	it("waits for a file that is held for a moment", async () => {
		const path = join(scratchFolder(), "plan.json");
		await replaceFile(faultyFiles("rename", "EBUSY", 1, 3), path, text("there"));
		expect(readFileSync(path, "utf8")).toBe("there");
	});

	it("passes a defect of the program through as one", async () => {
		const broken = { ...nodeFiles, write: () => Promise.reject(new TypeError("a defect")) };
		await expect(replaceFile(broken, join(scratchFolder(), "x"), text(""))).rejects.toThrow(TypeError);
	});
});

describe("commissions", () => {
	it("keeps the last of many sent at once", async () => {
		const commissions = createCommissions(nodeFiles, scratchFolder());
		const sent = Array.from({ length: 25 }, (_, i) => commissionText(`state ${i}`));
		const keep = windowOn(commissions);
		await Promise.all(sent.map((one) => keep(one)));
		expect((await commissions.recall(ID)).text).toBe(sent[24]);
	});

	it("goes on keeping after a full disk, and has lost nothing by it", async () => {
		const home = scratchFolder();
		await createCommissions(nodeFiles, home).keep(ID, commissionText("before"), by(null));
		const full = createCommissions(faultyFiles("write", "ENOSPC", 1, 1), home);
		const seen = versionOf(text(commissionText("before")));
		const as = by(null, "window2", seen);
		expect((await refusal(full.keep(ID, commissionText("during"), as))).issue.code).toBe("files.full");
		expect((await full.recall(ID)).text).toBe(commissionText("before"));
		await full.keep(ID, commissionText("after"), as);
		expect((await full.recall(ID)).text).toBe(commissionText("after"));
	});

	it("lists the latest first, by the clock, and the same way twice", async () => {
		let minute = 0;
		const clock = () => new Date(Date.UTC(2030, 0, 1, 0, minute++));
		const commissions = createCommissions(nodeFiles, scratchFolder(), clock);
		const ids = ["a", "b", "c"].map((letter) => letter.repeat(16));
		const windows = ids.map((id) => windowOn(commissions, id));
		for (const [i, id] of ids.entries()) await windows[i](commissionText(id));
		await windows[0](commissionText("again"));
		expect((await commissions.recents()).map(({ id }) => id)).toEqual([ids[0], ids[2], ids[1]]);
	});

	it("still lists and gives back a commission whose notes are gone or spoilt", async () => {
		const home = scratchFolder();
		const commissions = createCommissions(nodeFiles, home);
		await commissions.keep(ID, commissionText("owl"), by(null));
		const about = join(home, "commissions", `${ID}.about.json`);
		for (const spoil of [() => writeFileSync(about, "{"), () => rmSync(about)]) {
			spoil();
			expect(await commissions.recents()).toMatchObject([{ id: ID, name: "owl", scan: "owl.stl" }]);
			expect(await commissions.recall(ID)).toMatchObject({ text: commissionText("owl"), scanPath: null });
		}
	});

	it("remembers where the scan lies until another scan is taken", async () => {
		const folder = scratchFolder();
		put(folder, { "owl.stl": "solid" });
		const commissions = createCommissions(nodeFiles, scratchFolder());
		const keep = windowOn(commissions);
		await keep(commissionText("one"), join(folder, "owl.stl"));
		await keep(commissionText("two"));
		expect((await commissions.recall(ID)).scanPath).toBe(join(folder, "owl.stl"));
		await keep(commissionText("three", "lion.stl"));
		expect((await commissions.recall(ID)).scanPath).toBeNull();
	});

	it("clears away what a program that is gone left unfinished, and nothing fresh", async () => {
		const home = scratchFolder();
		const commissions = createCommissions(nodeFiles, home);
		await commissions.keep(ID, commissionText(), by(null));
		put(join(home, "commissions"), { "old.part": "x", "fresh.part": "x" });
		utimesSync(join(home, "commissions", "old.part"), 1000, 1000);
		await commissions.recents();
		expect(readdirSync(join(home, "commissions")).filter((name) => name.endsWith(".part"))).toEqual(["fresh.part"]);
	});

	it("lets two windows on one commission not overwrite each other", async () => {
		const home = scratchFolder();
		const commissions = createCommissions(nodeFiles, home);
		await commissions.keep(ID, commissionText("begun"), by(null, "window1"));
		const { version } = await commissions.recall(ID);
		await commissions.keep(ID, commissionText("by the second"), by(null, "window2", version));
		const late = await refusal(commissions.keep(ID, commissionText("by the first"), by(null, "window1", version)));
		expect(late.issue.code).toBe("files.changedMeanwhile");
		expect((await commissions.recall(ID)).text).toBe(commissionText("by the second"));
		// The second goes on from its own.
		const own = versionOf(text(commissionText("by the second")));
		await commissions.keep(ID, commissionText("by the second again"), by(null, "window2", version, own));
		expect((await commissions.recall(ID)).text).toBe(commissionText("by the second again"));
	});

	it("does not overwrite a file that was changed under it, and brings back the last good text of a spoilt one", async () => {
		const home = scratchFolder();
		const place = join(home, "commissions", `${ID}.commission.json`);
		const commissions = createCommissions(nodeFiles, home);
		await commissions.keep(ID, commissionText("yesterday"), by(null, "window1"));
		const { version } = await commissions.recall(ID);
		await commissions.keep(ID, commissionText("today"), by(null, "window2", version));
		writeFileSync(place, commissionText("from outside"));
		const refused = await refusal(commissions.keep(ID, commissionText("later"), by(null, "window2", version)));
		expect(refused.issue.code).toBe("files.changedMeanwhile");
		expect((await commissions.recall(ID)).text).toBe(commissionText("from outside"));
		writeFileSync(place, "{ half a fi");
		const recalled = await commissions.recall(ID);
		expect(recalled).toMatchObject({ text: commissionText("yesterday"), earlier: true });
		await commissions.keep(ID, commissionText("mended"), by(null, "window3", recalled.version));
		expect(await commissions.recall(ID)).toMatchObject({ text: commissionText("mended"), earlier: false });
	});
});

describe("a scan found again", () => {
	const bytes = text("solid ".repeat(1000));
	const sha256 = createHash("sha256").update(bytes).digest("hex");

	it.each(["renamed.stl", "deeper/owl.stl", "../beside.stl"])("at %s", async (place) => {
		const folder = join(scratchFolder(), "scans");
		put(folder, { "owl.stl": bytes, "same size.stl": text("liquid".repeat(1000)), [place]: bytes });
		rmSync(join(folder, "owl.stl"));
		const found = await findScan(nodeFiles, { path: join(folder, "owl.stl"), size: bytes.length, sha256 });
		expect(found).toBe(join(folder, place));
	});

	it("only where its bytes are the same ones", async () => {
		const folder = join(scratchFolder(), "scans");
		put(folder, { "same size.stl": text("liquid".repeat(1000)), "other.ply": bytes });
		expect(await findScan(nodeFiles, { path: join(folder, "owl.stl"), size: bytes.length, sha256 })).toBeNull();
		expect(await findScan(nodeFiles, { path: join(folder, "owl.stl"), size: bytes.length, sha256: "" })).toBeNull();
	});

	it("by the commission, through the folder that it moved to", async () => {
		const folder = scratchFolder();
		put(folder, { "owl.stl": bytes });
		const commissions = createCommissions(nodeFiles, scratchFolder());
		const document = JSON.parse(commissionText()) as { scan: Record<string, unknown> };
		document.scan.sha256 = sha256;
		await commissions.keep(ID, JSON.stringify(document), by(join(folder, "owl.stl")));
		mkdirSync(join(folder, "2030"));
		renameSync(join(folder, "owl.stl"), join(folder, "2030", "owl of the gate.stl"));
		expect((await commissions.recall(ID)).scanPath).toBe(join(folder, "2030", "owl of the gate.stl"));
	});
});

describe("leave to read a scan", () => {
	it("is given for files, and redeemed for what was given alone", async () => {
		const folder = scratchFolder();
		put(folder, { "owl.stl": "solid" });
		const grants = createScanGrants(nodeFiles);
		const grant = await grants.issue(join(folder, "owl.stl"));
		expect(grant).toMatchObject({ name: "owl.stl", size: 5 });
		expect(grants.redeem(grant.token)).toBe(join(folder, "owl.stl"));
		expect(grants.redeem("0".repeat(32))).toBeNull();
		expect(createScanGrants(nodeFiles).redeem(grant.token)).toBeNull();
		expect((await refusal(grants.issue(folder))).issue.code).toBe("files.folder");
		expect((await refusal(grants.issue(join(folder, "none.stl")))).issue.code).toBe("files.missing");
	});
});

describe("a scan read from the disk", () => {
	it("gives any stretch of its bytes, and fewer where it ends", () => {
		const path = join(scratchFolder(), "owl.stl");
		const bytes = Uint8Array.from({ length: 100_000 }, (_, i) => i % 251);
		writeFileSync(path, bytes);
		const source = openFileSource(path);
		expect(source.size).toBe(100_000);
		for (const [offset, length] of [
			[0, 10],
			[5, 70_000],
			[99_990, 100],
			[100_000, 5],
			[200_000, 5],
			[0, 0],
		])
			expect(
				Buffer.from(source.read(offset, length)).equals(bytes.subarray(offset, offset + length)),
				`${offset}`,
			).toBe(true);
		source.close();
	});

	it("takes no more memory than was asked for, whatever is asked", () => {
		const path = join(scratchFolder(), "owl.stl");
		writeFileSync(path, "short");
		const source = openFileSource(path);
		const before = process.memoryUsage().arrayBuffers;
		expect(source.read(0, 4_000_000_000).length).toBe(5);
		expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(1_000_000);
		source.close();
	});

	it("refuses what is not there, and a folder", () => {
		const folder = scratchFolder();
		expect(() => openFileSource(join(folder, "none.stl"))).toThrow(/files\.missing/);
		expect(() => openFileSource(folder)).toThrow(/files\.folder/);
	});
});

describe("the person's folder", () => {
	it("follows the platform, and PUNTELLO_HOME before all", () => {
		const home = join("/", "home", "carver");
		expect(userFolder({ PUNTELLO_HOME: "/elsewhere" }, "linux", home)).toBe("/elsewhere");
		expect(userFolder({}, "linux", home)).toBe(join(home, ".local", "share", "puntello"));
		expect(userFolder({ XDG_DATA_HOME: "/data" }, "linux", home)).toBe(join("/data", "puntello"));
		expect(userFolder({}, "darwin", home)).toBe(join(home, "Library", "Application Support", "Puntello"));
		expect(userFolder({ APPDATA: "/roaming" }, "win32", home)).toBe(join("/roaming", "Puntello"));
		expect(existsSync(join(home, ".local", "share", "puntello"))).toBe(false);
	});
});
