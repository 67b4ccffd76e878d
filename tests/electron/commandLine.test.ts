import { spawn } from "node:child_process";
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, it, vi } from "vitest";
import { newCommission } from "../../core/plan/commission.ts";
import { planSchema } from "../../core/plan/planFile.ts";
import { writeBinaryPly, writeBinaryStl } from "../../core/scan/writeScan.ts";
import { PROJECT } from "../../electron/build.ts";
import { runCommandLine } from "../../electron/commandLine.ts";
import * as intake from "../../electron/verbs/takeIn.ts";
import { box } from "../support/groundMesh.ts";
import { put, scratchFolder } from "../support/places.ts";
import { sphere } from "../support/shapes.ts";

/** By its address, because the program is also run from other folders. */
const TSX = pathToFileURL(createRequire(import.meta.url).resolve("tsx")).href;

interface Ran {
	readonly code: number;
	readonly out: string;
	readonly error: string;
}

/** The command line within this process. */
async function run(...argv: string[]): Promise<Ran> {
	const ran = { out: "", error: "" };
	const to = (end: "out" | "error") => ({
		write(text: string, done?: () => void) {
			ran[end] += text;
			done?.();
		},
	});
	const code = await runCommandLine(argv, to("out"), to("error"));
	return { code, ...ran };
}

/** What it says last: the one line of a refusal. */
const lastLine = (text: string): string => text.trimEnd().split("\n").pop() ?? "";

function scans(): string {
	const folder = scratchFolder();
	put(folder, {
		"box.stl": writeBinaryStl(box([0, 0, 0], [100, 200, 300])),
		"box.ply": writeBinaryPly(box([0, 0, 0], [100, 200, 300])),
		"doubtful.stl": writeBinaryStl(box([0, 0, 0], [10, 20, 30])),
		"ball.stl": writeBinaryStl(sphere(60, { edge: 7 }).mesh),
	});
	return folder;
}

describe("survey", () => {
	it.each(["box.stl", "box.ply"])("measures %s", async (file) => {
		const { code, out } = await run("survey", join(scans(), file), "--json");
		expect(code).toBe(0);
		expect(JSON.parse(out)).toMatchObject({
			file,
			format: file === "box.stl" ? "STL binary" : "PLY binary little-endian",
			triangles: 12,
			weldedVertices: 8,
			shells: 1,
			openEdges: 0,
			nonManifoldEdges: 0,
			flippedTriangles: 0,
			degenerateTriangles: 0,
			duplicateTriangles: 0,
			closed: true,
			area_mm2: 220_000,
			volume_mm3: 6_000_000,
			centroid_mm: [50, 100, 150],
			bounds_mm: { min: [0, 0, 0], max: [100, 200, 300] },
			unit: { chosen: "mm" },
			notes: [],
		});
	});

	it("takes unit, scale and mirror", async () => {
		const { out } = await run(
			"survey",
			join(scans(), "box.stl"),
			"--json",
			"--unit",
			"cm",
			"--scale",
			"0.5",
			"--mirror",
		);
		expect(JSON.parse(out)).toMatchObject({
			area_mm2: 220_000 * 25,
			volume_mm3: 6_000_000 * 125,
			centroid_mm: [-250, 500, 750],
			bounds_mm: { min: [-500, 0, 0], max: [0, 1000, 1500] },
			unit: { chosen: "cm" },
			scale: 0.5,
			mirrored: true,
		});
	});

	it("refuses a unit in doubt, with the candidates", async () => {
		const { code, out, error } = await run("survey", join(scans(), "doubtful.stl"));
		expect([code, out]).toEqual([2, ""]);
		expect(lastLine(error)).toMatch(/doubtful\.stl.*cm.*in.*--unit/);
	});

	it("tells people the same in rows", async () => {
		const { code, out } = await run("survey", join(scans(), "box.stl"));
		expect(code).toBe(0);
		expect(out).toMatch(/^size +100\.0 × 200\.0 × 300\.0 mm$/m);
		expect(out).toMatch(/^volume +6\.000 dm³$/m);
	});
});

describe("fit", () => {
	it("finds the way a box lies in a block, and the proof", async () => {
		const argv = ["fit", join(scans(), "box.stl"), "--block", "320x120x220", "--margin", "4", "--json"];
		const { code, out } = await run(...argv);
		expect(code).toBe(0);
		const found = JSON.parse(out);
		expect(found).toMatchObject({
			fits: true,
			certified: true,
			block_mm: [320, 120, 220],
			largestScale: expect.any(Number),
		});
		// 10 mm on every side: the long side of the box along the long side of the block.
		expect(found.clearance_mm).toBeCloseTo(10, 6);
		expect(found.spare_mm).toBeCloseTo(6, 6);
		expect(found.clearanceBound_mm).toBeGreaterThanOrEqual(found.clearance_mm);
		expect(found.clearanceBound_mm - found.clearance_mm).toBeLessThanOrEqual(0.1);
		expect(found.perFace).toHaveLength(6);
		expect([...found.smallestBlock_mm].sort((a: number, b: number) => a - b).map(Math.round)).toEqual([108, 208, 308]);
		expect(found.smallestBlockBound_mm3).toBeLessThanOrEqual(108 * 208 * 308 * (1 + 1e-9));
		expect(found.smallestBlockBound_mm3).toBeGreaterThan(108 * 208 * 308 * 0.998);
		expect(found.largestScale).toBeCloseTo(312 / 300, 3);
		expect(found.wasteShare).toBeCloseTo(1 - 6_000_000 / (320 * 120 * 220), 12);
	});

	it("keeps it upright when asked, and says that it does not fit", async () => {
		const argv = ["fit", join(scans(), "box.stl"), "--block", "320x120x220", "--upright", "--json"];
		const { code, out } = await run(...argv);
		expect(code).toBe(0);
		expect(JSON.parse(out)).toMatchObject({ fits: false, turning: "upright" });
	});

	// A box of 100 × 200 × 300 in stones as files; distances to the planes of the file are counted off on its corners.
	const corners = [0, 1, 2, 3, 4, 5, 6, 7].map((i) => [i & 1 ? 100 : 0, i & 2 ? 200 : 0, i & 4 ? 300 : 0]);
	const expectInFile = (found: {
		planes: number[][];
		toModel: number[];
		placement: { rotation: number[]; translation: number[] };
		clearance_mm: number;
		clearanceBound_mm: number;
		certified: boolean;
	}): void => {
		const { toModel: m, placement } = found;
		let least = Infinity;
		for (const [x, y, z] of corners) {
			const model = [0, 1, 2].map((k) => m[4 * k] * x + m[4 * k + 1] * y + m[4 * k + 2] * z + m[4 * k + 3]);
			const at = [0, 1, 2].map(
				(k) =>
					placement.rotation[3 * k] * model[0] +
					placement.rotation[3 * k + 1] * model[1] +
					placement.rotation[3 * k + 2] * model[2] +
					placement.translation[k],
			);
			for (const [a, b, c, d] of found.planes) least = Math.min(least, d - (a * at[0] + b * at[1] + c * at[2]));
		}
		expect(found.clearance_mm).toBeCloseTo(least, 6);
		expect(found.certified).toBe(true);
		expect(found.clearanceBound_mm - found.clearance_mm).toBeLessThanOrEqual(0.1);
	};

	it("in offcuts by their faces, with broken corners, and by their scan, in the file's own coordinates", async () => {
		const folder = scratchFolder();
		const planes = [
			[-1, 0, 0, 1000],
			[1, 0, 0, -680],
			[0, -1, 0, -50],
			[0, 1, 0, 290],
			[0, 0, -1, 0],
			[0, 0, 1, 150],
			[1, 1, 1, -500],
		];
		writeFileSync(join(folder, "faces.json"), JSON.stringify(planes));
		const breaks = [{ kind: "off", faces: ["right", "back", "top"], reach_mm: [60, 50, 40] }];
		const broken = { format: "puntello-stone", version: 1, block_mm: [330, 230, 130], breaks };
		writeFileSync(join(folder, "broken.json"), JSON.stringify(broken));
		writeFileSync(join(folder, "stone.stl"), writeBinaryStl(box([0, 0, 0], [340, 240, 120])));
		const fitIn = async (file: string, ...more: string[]) => {
			const { code, out, error } = await run(
				"fit",
				join(scans(), "box.stl"),
				"--offcut",
				join(folder, file),
				"--json",
				...more,
			);
			expect([code, error.includes("defect")]).toEqual([0, false]);
			return JSON.parse(out);
		};
		const faces = await fitIn("faces.json");
		expect(faces.block_mm).toBeNull();
		expect(faces.planes).toHaveLength(7);
		expectInFile(faces);
		const cornered = await fitIn("broken.json");
		expect(cornered.block_mm).toEqual([330, 230, 130]);
		expectInFile(cornered);
		const scanned = await fitIn("stone.stl", "--stone-unit", "mm", "--margin", "3", "--out-of-true", "5");
		expectInFile(scanned);
		expect(scanned.spare_mm).toBeCloseTo(10 - 3 - 2.5, 6);
		expect(scanned.searched).toBe(false);
	});

	it("a yard in workers: those that fit by waste, then the others, then what could not be read", async () => {
		const folder = scratchFolder();
		writeFileSync(
			join(folder, "sizes.txt"),
			"# left of the gate\nlong, 400x220x120\nsmall, 320x120x210\nshort, 290x220x120\n",
		);
		writeFileSync(join(folder, "not.json"), "{");
		writeFileSync(join(folder, "scan.stl"), writeBinaryStl(box([0, 0, 0], [340, 240, 130])));
		const { code, out } = await run("fit", join(scans(), "box.stl"), "--yard", folder, "--margin", "2", "--json");
		expect(code).toBe(0);
		const found = JSON.parse(out);
		expect(found.best).toBe("small");
		expect(found.stones.map((s: { name: string; fits: boolean }) => [s.name, s.fits])).toEqual([
			["small", true],
			["long", true],
			["scan.stl", true],
			["short", false],
			["not.json", null],
		]);
		const wastes = found.stones.slice(0, 3).map((s: { wasteShare: number }) => s.wasteShare);
		expect(wastes).toEqual([...wastes].sort((a: number, b: number) => a - b));
		expect(found.stones[4].reason).toMatch(/not\.json is not a readable document/);
	});
});

describe("what is refused", () => {
	const file = (name: string) => (folder: string) => join(folder, name);
	const cases: [string, (folder: string) => string[], RegExp][] = [
		["no verb of that name", () => ["carve"], /no verb "carve".*survey/],
		["a verb that every object has", () => ["constructor"], /no verb "constructor"/],
		["no scan", () => ["survey"], /survey needs a scan/],
		["no stone", (f) => ["fit", file("box.stl")(f)], /fit needs a block .*--offcut.*--yard/],
		["two stones", (f) => ["fit", file("box.stl")(f), "--block", "1x1x1", "--yard", f], /--block and --yard exclude/],
		[
			"an offcut that is not there",
			(f) => ["fit", file("box.stl")(f), "--offcut", join(f, "no.json")],
			/no\.json was not found/,
		],
		["a scan that is not there", (f) => ["survey", join(f, "none.stl")], /none\.stl was not found/],
		["a folder for a scan", (f) => ["survey", f], /is a folder/],
		["an option that is not known", (f) => ["survey", file("box.stl")(f), "--colour"], /--colour/],
		["an argument too many", (f) => ["survey", file("box.stl")(f), "more"], /"more" is one argument too many/],
		[
			"a unit that is none",
			(f) => ["survey", file("box.stl")(f), "--unit", "ell"],
			/--unit: found "ell".*mm, cm, m, in, ft/,
		],
		["a scale of nothing", (f) => ["survey", file("box.stl")(f), "--scale", "0"], /--scale: found "0"/],
		["a scale in words", (f) => ["survey", file("box.stl")(f), "--scale", "1e"], /--scale: found "1e"/],
		["no block", (f) => ["fit", file("box.stl")(f)], /fit needs a block/],
		["a block of two sides", (f) => ["fit", file("box.stl")(f), "--block", "10x20"], /--block: found "10x20"/],
		["a block of no height", (f) => ["fit", file("box.stl")(f), "--block", "10x20x0"], /--block/],
		[
			"a stone that is not listed",
			(f) => ["fit", file("box.stl")(f), "--block", "1x1x1", "--stone", "cheese"],
			/cheese/,
		],
		["a margin under nothing", (f) => ["fit", file("box.stl")(f), "--block", "9x9x9", "--margin", "-1"], /margin/],
		[
			"join and count at once",
			(f) => ["points", file("box.stl")(f), "--join", "3", "--count", "9"],
			/--join and --count/,
		],
		["half a point", (f) => ["points", file("box.stl")(f), "--count", "1.5"], /--count: found "1\.5"/],
		["nowhere to write to", (f) => ["plan", file("box.stl")(f)], /plan needs a folder/],
		["a transfer that is none", (f) => ["plan", file("box.stl")(f), "--out", f, "--transfer", "magic"], /--transfer/],
		["a demo that is none", () => ["demo", "lion"], /no demo "lion".*owl, leaf-face/],
		["a scan that is cut off", (f) => ["survey", file("cut.stl")(f)], /cut\.stl/],
		["a header that claims four thousand million", (f) => ["survey", file("claim.stl")(f)], /claim\.stl.*4294967295/],
		["a coordinate that is no number", (f) => ["survey", file("nan.stl")(f)], /nan\.stl.*NaN/],
		["a PLY of nothing", (f) => ["survey", file("empty.ply")(f)], /empty\.ply/],
		["a file of nothing", (f) => ["survey", file("nothing.stl")(f)], /nothing\.stl.*0 bytes/],
		["words under the name of a scan", (f) => ["survey", file("words.stl")(f)], /words\.stl/],
		[
			"a commission with a key that is not known",
			(f) => ["plan", file("box.stl")(f), "--out", join(f, "o"), "--commission", file("odd.commission.json")(f)],
			/odd\.commission\.json.*chisel/,
		],
		[
			"a commission that is not there",
			(f) => ["plan", file("box.stl")(f), "--out", join(f, "o"), "--commission", file("none.json")(f)],
			/none\.json was not found/,
		],
	];

	it.each(cases)("%s", async (_name, argvOf, words) => {
		const folder = scans();
		const stl = writeBinaryStl(box([0, 0, 0], [100, 200, 300]));
		const claim = Buffer.from(stl);
		claim.writeUInt32LE(4_294_967_295, 80);
		const nan = Buffer.from(stl);
		nan.writeFloatLE(Number.NaN, 84 + 50 * 3 + 12);
		put(folder, {
			"cut.stl": stl.subarray(0, stl.length - 77),
			"claim.stl": claim,
			"nan.stl": nan,
			"empty.ply":
				"ply\nformat ascii 1.0\nelement vertex 0\nproperty float x\nproperty float y\nproperty float z\nelement face 0\nproperty list uchar int vertex_indices\nend_header\n",
			"nothing.stl": "",
			"words.stl": "Dear carver,\nhere is the scan that you asked for.\n",
			"odd.commission.json": JSON.stringify({ ...newCommission("box.stl"), chisel: "flat" }),
		});
		const before = process.memoryUsage().arrayBuffers;
		const { code, out, error } = await run(...argvOf(folder));
		expect([code, out]).toEqual([2, ""]);
		expect(lastLine(error)).toMatch(words);
		expect(lastLine(error).length).toBeLessThan(400);
		// A sentence, not the bare code and its facts.
		expect(lastLine(error)).not.toMatch(/^[\w.]+: \{/);
		expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(50_000_000);
		expect(existsSync(join(folder, "o"))).toBe(false);
	});

	it("tells a defect of the program from a refused input", async () => {
		const broken = vi.spyOn(intake, "takeIn").mockRejectedValue(new TypeError("something broke"));
		const { code, error } = await run("survey", "x.stl");
		broken.mockRestore();
		expect(code).toBe(1);
		expect(error).toContain("defect of the program");
		expect(error).toContain("something broke");
	});
});

describe("help", () => {
	it("is an answer when asked for, and a refusal when nothing was said", async () => {
		const asked = await run("--help");
		expect([asked.code, asked.error]).toEqual([0, ""]);
		for (const verb of ["survey", "fit", "points", "plan", "demo"]) expect(asked.out).toContain(`${verb} `);
		expect((await run("plan", "--help")).out).toBe(asked.out);
		const silent = await run();
		expect([silent.code, silent.out]).toEqual([2, ""]);
	});
});

describe("plan", () => {
	it("writes plan, table, sheets and maps, the same twice, and clears away maps of an earlier plan alone", async () => {
		const folder = scans();
		const out = join(folder, "new", "out");
		put(out, { "map-elsewhere.svg": "<svg/>", "map.txt": "mine", "notes.svg": "mine" });
		const argv = ["plan", join(folder, "ball.stl"), "--out", out, "--json", "--block", "200x180x160"];
		const first = await run(...argv);
		expect(first.error).not.toContain("defect");
		expect(first.code).toBe(0);
		const { files } = JSON.parse(first.out) as { files: string[] };
		expect(files).toEqual(expect.arrayContaining(["plan.json", "points.csv", "sheets.pdf", "map-front.svg"]));
		expect(readdirSync(out).sort()).toEqual([...files, "map.txt", "notes.svg"].sort());
		const plan = planSchema.parse(JSON.parse(readFileSync(join(out, "plan.json"), "utf8")));
		expect(plan.stone.block_mm).toEqual([200, 180, 160]);
		expect(plan.transfer).toBe("faces");
		expect(plan.points.length).toBeGreaterThan(10);
		expect(readFileSync(join(out, "sheets.pdf")).subarray(0, 5).toString()).toBe("%PDF-");
		expect(readFileSync(join(out, "points.csv"), "utf8").trimEnd().split("\n").length).toBeGreaterThan(
			plan.points.length,
		);

		const bytes = files.map((name) => readFileSync(join(out, name)));
		expect((await run(...argv)).out).toBe(first.out);
		for (const [i, name] of files.entries()) expect(readFileSync(join(out, name)).equals(bytes[i]), name).toBe(true);
	});

	it("follows a commission, and what is said on the command line over it", async () => {
		const folder = scans();
		const commission = newCommission("ball.stl");
		const net = { ...commission.rounds[1], name: "only net" };
		put(folder, {
			"a.commission.json": JSON.stringify({
				...commission,
				rounds: [net],
				transfer: "machine",
				scan: { file: "other.stl", sha256: "0".repeat(64) },
			}),
		});
		const out = join(folder, "out");
		const argv = ["plan", join(folder, "ball.stl"), "--out", out, "--commission", join(folder, "a.commission.json")];
		const { code, error } = await run(...argv, "--transfer", "callipers", "--scale", "2");
		expect(code).toBe(0);
		expect(error).toContain("was made on another scan");
		const plan = planSchema.parse(JSON.parse(readFileSync(join(out, "plan.json"), "utf8")));
		expect(plan.rounds.map((round) => round.name)).toEqual(["only net"]);
		expect([plan.transfer, plan.model.scale, plan.model.scan, plan.stone.blockAssumed]).toEqual([
			"callipers",
			2,
			"ball.stl",
			true,
		]);
	});

	it("refuses with the reason when the figure does not fit, and writes nothing", async () => {
		const folder = scans();
		const out = join(folder, "out");
		const { code, error } = await run("plan", join(folder, "ball.stl"), "--out", out, "--block", "100x100x100");
		expect(code).toBe(2);
		expect(lastLine(error)).toMatch(/fit/);
		expect(existsSync(out)).toBe(false);
	});
});

describe("points", () => {
	it("places one round by its join, or by a number", async () => {
		const ball = join(scans(), "ball.stl");
		const byJoin = JSON.parse((await run("points", ball, "--join", "4", "--json")).out);
		expect(byJoin.rounds).toMatchObject([{ name: "net", join_mm: 4 }]);
		expect(byJoin.points.length).toBe(byJoin.rounds[0].points);
		expect(byJoin.rounds[0].leastCover_mm).toBeGreaterThanOrEqual(byJoin.rounds[0].plannedCover_mm - 1e-6);
		const byCount = JSON.parse((await run("points", ball, "--count", "40", "--json")).out);
		expect(byCount.points.length).toBe(40);
	});
});

describe("as a program", () => {
	interface Ended extends Ran {
		readonly signal: string | null;
	}
	function program(argv: string[], cwd = PROJECT) {
		const child = spawn(process.execPath, ["--import", TSX, join(PROJECT, "electron", "commandLine.ts"), ...argv], {
			cwd,
		});
		const ran = { out: "", error: "" };
		child.stdout.on("data", (part: Buffer) => {
			ran.out += part;
		});
		child.stderr.on("data", (part: Buffer) => {
			ran.error += part;
		});
		const ended = new Promise<Ended>((resolve) =>
			child.once("close", (code, signal) => resolve({ code: code ?? -1, signal, ...ran })),
		);
		const said = async (words: string): Promise<void> => {
			while (!ran.error.includes(words)) {
				if (child.exitCode !== null) throw new Error(`it ended before it said "${words}": ${ran.error}`);
				await new Promise((resolve) => setTimeout(resolve, 5));
			}
		};
		return { child, ended, said };
	}

	it("answers with JSON alone on standard output, progress on standard error, and exit codes", async () => {
		const folder = scans();
		const good = await program(["survey", join(folder, "box.stl"), "--json"]).ended;
		expect(good.code).toBe(0);
		expect(JSON.parse(good.out).triangles).toBe(12);
		expect(good.out.trimEnd().split("\n")).toHaveLength(1);
		writeFileSync(join(folder, "bad.stl"), "solid nothing");
		const bad = await program(["survey", join(folder, "bad.stl"), "--json"]).ended;
		expect([bad.code, bad.out]).toEqual([2, ""]);
		expect(lastLine(bad.error)).toContain("bad.stl");
	});

	it("stops on Ctrl-C, at once, and leaves no file half-written", async () => {
		const folder = scratchFolder();
		const { child, ended, said } = program(["demo", "owl"], folder);
		await said("reading the scan");
		child.kill("SIGINT");
		const { code, signal, out, error } = await ended;
		expect([code, signal, out]).toEqual([130, null, ""]);
		expect(lastLine(error)).toContain("Stopped");
		expect(readdirSync(folder)).toEqual([]);
	});

	it("ends quietly when nobody reads its answer", async () => {
		const { child, ended } = program(["survey", join(scans(), "box.stl"), "--json"]);
		child.stdout.destroy();
		expect((await ended).error).not.toMatch(/EPIPE|defect/);
	});
});
