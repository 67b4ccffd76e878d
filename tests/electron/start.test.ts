import { spawn } from "node:child_process";
import { chmodSync, existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import { planSchema } from "../../core/plan/planFile.ts";
import { writeBinaryStl } from "../../core/scan/writeScan.ts";
import { PROJECT } from "../../electron/build.ts";
import { browserCommand, findChromium, hasDisplay } from "../../electron/findBrowser.ts";
import { installedShell } from "../../electron/findShell.ts";
import { put, scratchFolder } from "../support/places.ts";
import { sphere } from "../support/shapes.ts";

const TSX = pathToFileURL(createRequire(import.meta.url).resolve("tsx")).href;

/** A folder with programs of those names that do nothing. */
function programs(...names: string[]): string {
	const folder = scratchFolder();
	for (const name of names) {
		writeFileSync(join(folder, name), "#!/bin/sh\n");
		chmodSync(join(folder, name), 0o755);
	}
	return folder;
}

describe("finding a browser", () => {
	it("looks along the PATH, and takes programs alone", () => {
		const folder = programs("google-chrome");
		writeFileSync(join(folder, "chromium"), "no program");
		expect(findChromium({ PATH: folder }, "linux")).toBe(join(folder, "google-chrome"));
		expect(findChromium({ PATH: scratchFolder() }, "linux")).toBeNull();
		expect(findChromium({}, "linux")).toBeNull();
	});

	it("opens addresses as the platform does", () => {
		const address = "http://127.0.0.1:1/enter/x";
		const desktop = programs("xdg-open", "firefox");
		const bare = programs("firefox");
		expect(browserCommand(address, { PATH: desktop, DISPLAY: ":0" }, "linux")).toEqual([
			join(desktop, "xdg-open"),
			[address],
		]);
		expect(browserCommand(address, { PATH: bare, WAYLAND_DISPLAY: "w" }, "linux")).toEqual([
			join(bare, "firefox"),
			[address],
		]);
		expect(browserCommand(address, { PATH: programs("xdg-open"), DISPLAY: ":0" }, "linux")).toBeNull();
		expect(browserCommand(address, { PATH: desktop }, "linux")).toBeNull();
		expect(browserCommand(address, {}, "darwin")?.[0]).toBe("open");
		expect(browserCommand(address, {}, "win32")?.[1]).toContain(address);
	});

	it("knows on Linux whether there is a screen", () => {
		expect(hasDisplay({}, "linux")).toBe(false);
		expect(hasDisplay({ DISPLAY: "" }, "linux")).toBe(false);
		expect(hasDisplay({ DISPLAY: ":0" }, "linux")).toBe(true);
		expect(hasDisplay({ WAYLAND_DISPLAY: "wayland-0" }, "linux")).toBe(true);
		expect(hasDisplay({}, "darwin")).toBe(true);
	});
});

describe("finding the shell's binary", () => {
	it("believes the package's note only where the binary stands", () => {
		const folder = scratchFolder();
		expect(installedShell(folder)).toBeNull();
		put(folder, { "path.txt": "electron" });
		expect(installedShell(folder)).toBeNull();
		mkdirSync(join(folder, "dist"));
		writeFileSync(join(folder, "dist", "electron"), "");
		expect(installedShell(folder)).toBe(join(folder, "dist", "electron"));
	});
});

describe("starting with no display", () => {
	function start(argv: string[], cwd: string): Promise<{ code: number; out: string; error: string }> {
		const { DISPLAY: _, WAYLAND_DISPLAY: __, ...env } = process.env;
		const child = spawn(process.execPath, ["--import", TSX, join(PROJECT, "electron", "start.ts"), ...argv], {
			cwd,
			env,
		});
		let out = "";
		let error = "";
		child.stdout.on("data", (part: Buffer) => {
			out += part;
		});
		child.stderr.on("data", (part: Buffer) => {
			error += part;
		});
		return new Promise((resolve) => child.once("close", (code) => resolve({ code: code ?? -1, out, error })));
	}

	it.runIf(process.platform === "linux")("plans on paper, and says where the sheet lies", async () => {
		const folder = scratchFolder();
		put(folder, { "ball.stl": writeBinaryStl(sphere(60, { edge: 9 }).mesh) });
		const { code, out } = await start(["ball.stl"], folder);
		expect(code).toBe(0);
		expect(out).toContain("no display");
		// The way to the window is named at the first line and at the last.
		expect(out.trimEnd().split("\n").at(-1)).toContain("npm start -- --address");
		const sheet = join("out", "ball", "sheets.pdf");
		expect(out).toContain(sheet);
		expect(readFileSync(join(folder, sheet)).subarray(0, 5).toString()).toBe("%PDF-");
		planSchema.parse(JSON.parse(readFileSync(join(folder, "out", "ball", "plan.json"), "utf8")));
	});

	it("refuses what it cannot open, in one line", async () => {
		const folder = scratchFolder();
		const { code, out, error } = await start(["lion"], folder);
		expect([code, out]).toEqual([2, ""]);
		expect(error.trimEnd().split("\n")).toHaveLength(1);
		expect(error).toMatch(/lion.*owl, leaf-face/);
		expect(existsSync(join(folder, "out"))).toBe(false);
	});
});
