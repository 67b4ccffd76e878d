import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it, vi } from "vitest";
import { menuTemplate } from "../../electron/shell/menu.ts";
import { ContentsStandIn, FrameStandIn } from "../support/electronStandIn.ts";
import { commissionText, put, scratchFolder } from "../support/places.ts";
import { runShell } from "./holders.ts";

/** The shell's own code over a stand-in of the browser: what it locks, and what it does when the system speaks to it. */

/** Waits for what the shell does by and by, on a busy machine too. */
const soon = <T>(check: () => T | Promise<T>): Promise<T> => vi.waitFor(check, { timeout: 20_000 });

const event = (more: Record<string, unknown> = {}) => ({
	prevented: false,
	preventDefault() {
		this.prevented = true;
	},
	...more,
});

describe("who may call", () => {
	it("answers the page of its own window, and refuses every other sender", async () => {
		const { electron } = await runShell();
		const ours = electron.windows[0].webContents;
		const call = (sender: unknown, senderFrame: unknown) =>
			electron.invoke({ sender, senderFrame }, "puntello", "hello", {});
		expect(await call(ours, ours.mainFrame)).toMatchObject({ ok: true });

		const refused = { ok: false, code: "bridge.sender" };
		const stranger = new ContentsStandIn();
		stranger.mainFrame.url = "puntello://window/";
		expect(await call(stranger, stranger.mainFrame)).toMatchObject(refused);
		expect(await call(ours, new FrameStandIn("puntello://window/"))).toMatchObject(refused);
		expect(await call(ours, null)).toMatchObject(refused);
		for (const url of [
			"https://evil.example/",
			"puntello://window.evil/",
			"puntello://other/",
			"file:///",
			"about:blank",
			"",
		]) {
			ours.mainFrame.url = url;
			expect(await call(ours, ours.mainFrame), url).toMatchObject(refused);
		}
	});

	it("listens on one channel and exposes one method", async () => {
		const { electron } = await runShell();
		expect([...electron.ipcHandlers.keys()]).toEqual(["puntello"]);
		expect(Object.keys(electron.exposed)).toEqual(["puntello"]);
		expect(Object.keys(electron.exposed.puntello as object)).toEqual(["call"]);
	});
});

describe("what a page may not do", () => {
	it("runs isolated, in the sandbox, without Node", async () => {
		const { electron } = await runShell();
		expect(electron.app.sandboxed).toBe(true);
		expect(electron.windows[0].options.webPreferences).toMatchObject({
			contextIsolation: true,
			sandbox: true,
			nodeIntegration: false,
			webSecurity: true,
			webviewTag: false,
			navigateOnDragDrop: false,
			devTools: false,
		});
	});

	it("goes nowhere else, opens nothing and embeds nothing", async () => {
		const { electron } = await runShell();
		const contents = electron.windows[0].webContents;
		for (const name of ["will-navigate", "will-redirect", "will-frame-navigate"]) {
			for (const url of [
				"https://evil.example/",
				"file:///etc/passwd",
				"puntello://other/",
				"javascript:1",
				"data:text/html,x",
			]) {
				const away = event({ url, isMainFrame: true });
				contents.emit(name, away);
				expect(away.prevented, `${name} ${url}`).toBe(true);
			}
			const home = event({ url: "puntello://window/", isMainFrame: true });
			contents.emit(name, home);
			expect(home.prevented, name).toBe(false);
		}
		const webview = event();
		contents.emit("will-attach-webview", webview);
		expect(webview.prevented).toBe(true);
		expect(contents.openWindow?.({ url: "puntello://window/" })).toEqual({ action: "deny" });
	});

	it("is granted no permission and no device, and downloads nothing", async () => {
		const { defaultSession } = (await runShell()).electron;
		const granted = vi.fn();
		for (const permission of [
			"media",
			"geolocation",
			"notifications",
			"clipboard-read",
			"openExternal",
			"fileSystem",
		]) {
			(defaultSession.permissionRequest as (...p: unknown[]) => void)(null, permission, granted);
			expect((defaultSession.permissionCheck as (...p: unknown[]) => boolean)(null, permission), permission).toBe(
				false,
			);
		}
		expect(granted.mock.calls).toEqual(Array(6).fill([false]));
		expect((defaultSession.devicePermission as () => boolean)()).toBe(false);
		const download = event();
		(defaultSession.listeners.get("will-download") as (event: unknown) => void)(download);
		expect(download.prevented).toBe(true);
	});

	it("reaches nothing but the program itself", async () => {
		const { defaultSession } = (await runShell()).electron;
		for (const url of [
			"https://evil.example/",
			"http://127.0.0.1:80/",
			"file:///etc/passwd",
			"ws://evil.example/",
			"devtools://devtools/",
			"chrome-extension://abc/",
			"puntello://other/",
			"blob:https://evil.example/1",
			"data:text/html,x",
		])
			expect(defaultSession.lets(url), url).toBe(false);
		for (const url of [
			"puntello://window/",
			"puntello://window/assets/a.js",
			"blob:puntello://window/1",
			"data:image/png;base64,",
		])
			expect(defaultSession.lets(url), url).toBe(true);
	});

	it("serves its scheme under its own name only", async () => {
		const { electron } = await runShell();
		expect(electron.schemes).toEqual([
			{ scheme: "puntello", privileges: { standard: true, secure: true, supportFetchAPI: true, stream: true } },
		]);
		const serve = electron.defaultSession.handlers.get("puntello");
		const answer = await serve?.({
			url: "puntello://other/index.html",
			method: "GET",
			headers: new Headers(),
		} as Request);
		expect(answer?.status).toBe(403);
	});
});

describe("what the system tells it", () => {
	it("runs once: a second start gives its file to the first and ends", async () => {
		const second = await runShell({ argument: "owl", first: false });
		expect(second.electron.app.quits).toBe(1);
		expect(second.electron.windows).toEqual([]);
		expect(second.electron.app.lockData).toEqual({ argument: "owl", folder: process.cwd() });

		const folder = scratchFolder();
		put(folder, { "lion.stl": "solid" });
		const { electron, call } = await runShell();
		electron.app.emit("second-instance", {}, [], "", { argument: "lion.stl", folder });
		await soon(() => expect(electron.windows[0].loaded.length).toBe(2));
		expect(electron.windows[0].focused).toBe(1);
		expect(await call("hello", {})).toMatchObject({ value: { open: { kind: "scan", grant: { name: "lion.stl" } } } });
	});

	it("opens a file that the system hands it", async () => {
		const folder = scratchFolder();
		put(folder, { "lion.ply": "ply" });
		const { electron, call } = await runShell();
		const handed = event();
		electron.app.emit("open-file", handed, join(folder, "lion.ply"));
		expect(handed.prevented).toBe(true);
		await soon(() => expect(electron.windows[0].loaded.length).toBe(2));
		expect(await call("hello", {})).toMatchObject({ value: { open: { kind: "scan", grant: { name: "lion.ply" } } } });
	});

	it("says so, and keeps what is open, when the file cannot be had", async () => {
		const { electron, call } = await runShell({ argument: "owl" });
		electron.app.emit("open-file", event(), "/nowhere/lion.ply");
		await soon(() => expect(electron.messages.length).toBe(1));
		expect(electron.messages[0]).toContain("/nowhere/lion.ply");
		expect(electron.windows[0].loaded.length).toBe(1);
		expect(await call("hello", {})).toMatchObject({ value: { open: { kind: "demo", name: "owl" } } });
	});

	it("brings a page back that died, but not for ever: then it asks, and begins anew with nothing opened", async () => {
		const { electron, call } = await runShell({ argument: "owl" });
		const { webContents, loaded } = electron.windows[0];
		webContents.emit("render-process-gone", {}, { reason: "clean-exit" });
		expect(webContents.reloads).toBe(0);
		for (let i = 0; i < 10; i++) webContents.emit("render-process-gone", {}, { reason: "crashed" });
		expect(webContents.reloads).toBe(3);
		await soon(() => expect(loaded.length).toBe(2));
		expect(electron.messages).toEqual([expect.stringContaining("stopped several times")]);
		expect(await call("hello", {})).toMatchObject({ value: { open: { kind: "nothing" } } });
		// And again the same patience as before.
		for (let i = 0; i < 3; i++) webContents.emit("render-process-gone", {}, { reason: "oom" });
		expect(webContents.reloads).toBe(6);
	});

	it("closes a window whose page keeps dying when the carver says so", async () => {
		const { electron } = await runShell({ argument: "owl" });
		electron.answers.message = 1;
		for (let i = 0; i < 4; i++) electron.windows[0].webContents.emit("render-process-gone", {}, { reason: "crashed" });
		await soon(() => expect(electron.windows[0].destroyed).toBe(true));
	});

	it("makes a window for a file that comes when none is left, and begins a bare one on the first screen", async () => {
		const folder = scratchFolder();
		put(folder, { "lion.ply": "ply", "owl.stl": "solid" });
		const { electron, call } = await runShell({ argument: join(folder, "owl.stl") });
		electron.windows[0].emit("closed");
		electron.app.emit("activate");
		await soon(() => expect(electron.windows[1]?.loaded.length).toBe(1));
		expect(await call("hello", {})).toMatchObject({ code: "bridge.sender" });
		const [, bare] = electron.windows;
		const hello = (contents: ContentsStandIn) =>
			electron.invoke({ sender: contents, senderFrame: contents.mainFrame }, "puntello", "hello", {});
		expect(await hello(bare.webContents)).toMatchObject({ value: { open: { kind: "nothing" } } });
		bare.emit("closed");
		electron.app.emit("open-file", event(), join(folder, "lion.ply"));
		await soon(() => expect(electron.windows[2]?.loaded.length).toBe(1));
		expect(await hello(electron.windows[2].webContents)).toMatchObject({
			value: { open: { kind: "scan", grant: { name: "lion.ply" } } },
		});
		electron.windows[2].emit("closed");
		electron.app.emit("second-instance", {}, [], "", { folder });
		await soon(() => expect(electron.windows[3]?.loaded.length).toBe(1));
		expect(electron.app.recent).toEqual([join(folder, "owl.stl"), join(folder, "lion.ply")]);
	});

	it("does not end while something is being kept", async () => {
		const { electron, call, home } = await runShell();
		const id = "0123456789abcdef";
		const keeping = call("keepCommission", {
			...{ id, text: commissionText("last words"), scanToken: null },
			...{ writer: id, seen: [] },
		});
		await new Promise((resolve) => setTimeout(resolve));
		const [asked, again] = [event(), event()];
		electron.app.emit("window-all-closed");
		const quits = electron.app.quits;
		electron.app.emit("will-quit", asked);
		expect(asked.prevented).toBe(true);
		await soon(() => expect(electron.app.quits).toBe(quits + 1));
		expect(readFileSync(join(home, "commissions", `${id}.commission.json`), "utf8")).toContain("last words");
		electron.app.emit("will-quit", again);
		expect(again.prevented).toBe(false);
		expect(await keeping).toMatchObject({ ok: true });
	});

	it("asks before a window goes whose work is nowhere safe, and does what it is told", async () => {
		const { electron } = await runShell();
		for (const [answer, goes] of [
			[0, false],
			[1, true],
		] as const) {
			const going = event();
			electron.answers.message = answer;
			electron.windows[0].webContents.emit("will-prevent-unload", going);
			expect(going.prevented).toBe(goes);
		}
		expect(electron.messages).toHaveLength(2);
	});

	it("prints in a window that has no bridge, and tells a refusal from a change of mind", async () => {
		const { electron, call } = await runShell();
		const bytes = new TextEncoder().encode("%PDF-1.7 sheet");
		expect(await call("printPdf", { bytes })).toEqual({ ok: true, value: "printed" });
		const viewer = electron.windows[1];
		expect(viewer.destroyed).toBe(true);
		expect(viewer.options.webPreferences).toMatchObject({
			sandbox: true,
			contextIsolation: true,
			nodeIntegration: false,
		});
		expect(viewer.options.webPreferences).not.toHaveProperty("preload");
		const apart = [...electron.partitions.values()][0];
		const sheet = await apart.handlers.get("puntello")?.({ url: viewer.loaded[0] } as Request);
		expect(await sheet?.text()).toBe("%PDF-1.7 sheet");
		expect(apart.lets("https://evil.example/")).toBe(false);

		const printer = vi.spyOn(ContentsStandIn.prototype, "print");
		printer.mockImplementation((_options, done) => done(false, "Print job canceled"));
		expect(await call("printPdf", { bytes })).toEqual({ ok: true, value: "cancelled" });
		printer.mockImplementation((_options, done) => done(false, "Print job failed"));
		expect(await call("printPdf", { bytes })).toMatchObject({ ok: false, code: "print.failed" });
		printer.mockRestore();
	});
});

describe("at the bench", () => {
	it("keeps the screen awake once, and lets it sleep again", async () => {
		const { call, electron } = await runShell();
		for (const on of [true, true]) expect(await call("keepAwake", { on })).toMatchObject({ ok: true, value: true });
		expect(electron.awake).toEqual(["prevent-display-sleep"]);
		await call("keepAwake", { on: false });
		await call("keepAwake", { on: false });
		expect(electron.awake).toEqual([null]);
	});
});

describe("the installed program", () => {
	it("is packed with the fuses that keep it from being run as another program", () => {
		const { build } = JSON.parse(readFileSync("package.json", "utf8")) as { build: Record<string, unknown> };
		// Electron's security tutorial, point 19: fuses that are not used are flipped.
		expect(build.electronFuses).toEqual({
			runAsNode: false,
			enableCookieEncryption: true,
			enableNodeOptionsEnvironmentVariable: false,
			enableNodeCliInspectArguments: false,
			enableEmbeddedAsarIntegrityValidation: true,
			onlyLoadAppFromAsar: true,
			grantFileProtocolExtraPrivileges: false,
		});
		expect(build.asar).toBe(true);
	});
});

describe("the window's place", () => {
	it("is remembered", async () => {
		const home = scratchFolder();
		const { electron } = await runShell({ home });
		expect(electron.windows[0].options).toMatchObject({ width: 1360, height: 860 });
		electron.windows[0].bounds = { x: 100, y: 50, width: 1111, height: 777 };
		electron.windows[0].emit("close");
		const again = await runShell({ home });
		expect(again.electron.windows[0].options).toMatchObject({ x: 100, y: 50, width: 1111, height: 777 });
	});

	it.each([
		["cannot be read", "{"],
		["has a key too many", '{"x":1,"y":1,"width":800,"height":600,"maximised":false,"more":1}'],
		["lies on a screen that is gone", '{"x":9000,"y":50,"width":800,"height":600,"maximised":false}'],
	])("is the usual one when what was kept %s", async (_why, text) => {
		const home = scratchFolder();
		writeFileSync(join(home, "window.json"), text);
		const { electron } = await runShell({ home });
		expect(electron.windows[0].options).toMatchObject({ width: 1360, height: 860 });
		expect(readFileSync(join(home, "window.json"), "utf8")).toBe(text);
	});
});

describe("the ground before the page is drawn", () => {
	it.each([
		[{ theme: "slate" }, "#262d30"],
		[{ theme: "paper" }, "#f6f1e6"],
		[{}, "#f6f1e6"],
	])("is that of the theme in %j", async (look, ground) => {
		const home = scratchFolder();
		put(home, { "look.json": JSON.stringify(look) });
		const { electron } = await runShell({ home });
		expect(electron.windows[0].options.backgroundColor).toBe(ground);
	});
});

describe("the menu", () => {
	const deeds = { openFile: () => {}, showKept: () => {} };
	/** Every item by its role or its words, menu by menu. */
	const outline = (platform: string): string[] =>
		menuTemplate(deeds, platform, true).map(({ role, label, submenu }) => {
			const items = (submenu as { role?: string; label?: string; type?: string }[] | undefined) ?? [];
			const inside = items.map((item) => item.role ?? item.label ?? item.type).join(", ");
			return `${role ?? label}${inside === "" ? "" : `: ${inside}`}`;
		});

	it("is that of a Mac on a Mac, and that of a window elsewhere", () => {
		const view = "resetZoom, zoomIn, zoomOut, separator, togglefullscreen";
		expect(outline("darwin")).toEqual([
			"appMenu",
			"File: Open…, recentDocuments, Show Kept Commissions in Finder, separator, close",
			"editMenu",
			`View: ${view}`,
			"windowMenu",
		]);
		for (const platform of ["linux", "win32"])
			expect(outline(platform)).toEqual([
				"&File: &Open a scan or commission…, Show where commissions are &kept, separator, quit",
				"editMenu",
				`&View: ${view}`,
				"windowMenu",
				"help: about",
			]);
	});

	it("opens what is chosen, with a window and without one", async () => {
		const folder = scratchFolder();
		put(folder, { "lion.stl": "solid" });
		const { electron } = await runShell();
		electron.answers.open = { canceled: false, filePaths: [join(folder, "lion.stl")] };
		const [[file]] = electron.menus as [{ submenu: { click?: () => void }[] }[]];
		const choose = () => file.submenu[0].click?.();
		choose();
		await soon(() => expect(electron.windows[0].loaded.length).toBe(2));
		electron.windows[0].emit("closed");
		choose();
		await soon(() => expect(electron.windows[1]?.loaded.length).toBe(1));
	});

	const rolesAndLabels = (platform: string, packaged: boolean): string =>
		JSON.stringify(menuTemplate(deeds, platform, packaged));

	it("follows the platform", () => {
		expect(menuTemplate(deeds, "darwin", true)[0]).toEqual({ role: "appMenu" });
		expect(rolesAndLabels("linux", true)).not.toContain("appMenu");
		expect(rolesAndLabels("win32", true)).toContain('"quit"');
		expect(rolesAndLabels("darwin", true)).toContain('"close"');
	});

	it("keeps the developer's tools out of an installed program", () => {
		expect(rolesAndLabels("linux", true)).not.toContain("toggleDevTools");
		expect(rolesAndLabels("linux", false)).toContain("toggleDevTools");
	});
});
