/** The desktop shell: one locked window over the built renderer. This file only puts the parts together. */

import { mkdirSync } from "node:fs";
import { join, resolve } from "node:path";
import { app, BrowserWindow, dialog, Menu, nativeTheme, session, shell } from "electron";
import { Refusal } from "../../core/refusal.ts";
import { refusalText } from "../../core/text/refusals.ts";
import { createCommissions } from "../files/commissions.ts";
import { nodeFiles } from "../files/fileLayer.ts";
import { createScanGrants } from "../files/scanGrants.ts";
import { userFolder } from "../files/userFolder.ts";
import { createKeptLook } from "../files/windowLook.ts";
import { openingOf } from "../opening.ts";
import { createServices, type Opening } from "../services.ts";
import { createWindowContent } from "../windowContent.ts";
import { chooseFile, shellHolder } from "./holder.ts";
import { lockDown, lockSession } from "./lockDown.ts";
import { menuTemplate } from "./menu.ts";
import { ORIGIN, registerScheme, serveScheme } from "./scheme.ts";
import { serveCalls } from "./serveCalls.ts";
import { keepState, recallState } from "./windowState.ts";

/** Paper and slate, so that no white flashes before the page is drawn. */
const GROUND = { light: "#f6f1e6", dark: "#262d30" };
/** A page that dies this often within a minute would die for ever. */
const MOST_REVIVALS = 3;
const REVIVAL_MS = 60_000;

const home = userFolder();
const profile = join(home, "shell");
mkdirSync(profile, { recursive: true });
app.setPath("userData", profile);

const fileArgument = (argv: readonly string[]): string | undefined =>
	argv.slice(app.isPackaged ? 1 : 2).find((argument) => !argument.startsWith("-"));

/** Resolved by whoever was started, because a second start may come from another folder. Demo names stay as they are. */
const asked = fileArgument(process.argv);
const wish = { argument: asked, folder: process.cwd() };

if (app.requestSingleInstanceLock(wish)) run();
else app.quit();

function run(): void {
	const grants = createScanGrants(nodeFiles);
	const statePath = join(home, "window.json");
	let window: BrowserWindow | null = null;
	let opening: Opening = { kind: "nothing" };
	let first = wish;
	const revivals: number[] = [];

	const services = createServices({
		holder: shellHolder(nodeFiles, () => window),
		version: app.getVersion(),
		layer: nodeFiles,
		grants,
		commissions: createCommissions(nodeFiles, home),
		look: createKeptLook(nodeFiles, home),
		opening: () => opening,
	});

	/** Takes up another file: the page is loaded anew and asks what to open; what it showed is kept already. */
	async function open(argument: string | undefined, folder: string): Promise<void> {
		if (argument === undefined) return;
		try {
			opening = await openingOf(argument, nodeFiles, grants, folder);
		} catch (error) {
			if (!(error instanceof Refusal)) throw error;
			const message = refusalText(error.issue);
			await (window ? dialog.showMessageBox(window, { message }) : dialog.showMessageBox({ message }));
			return;
		}
		if (window) await window.loadURL(`${ORIGIN}/`);
	}

	async function makeWindow(): Promise<void> {
		const { maximised, ...place } = recallState(statePath);
		const made = new BrowserWindow({
			...place,
			minWidth: 900,
			minHeight: 600,
			show: false,
			title: "Puntello",
			backgroundColor: nativeTheme.shouldUseDarkColors ? GROUND.dark : GROUND.light,
			webPreferences: {
				preload: join(app.getAppPath(), "dist", "shell", "preload.cjs"),
				contextIsolation: true,
				sandbox: true,
				nodeIntegration: false,
				webSecurity: true,
				webviewTag: false,
				navigateOnDragDrop: false,
				spellcheck: false,
			},
		});
		window = made;
		keepState(made, statePath);
		made.once("ready-to-show", () => {
			if (maximised) made.maximize();
			made.show();
		});
		made.on("closed", () => {
			window = null;
		});
		made.webContents.on("render-process-gone", (_event, { reason }) => {
			if (reason === "clean-exit" || made.isDestroyed()) return;
			const now = Date.now();
			revivals.push(now);
			if (revivals.filter((then) => now - then < REVIVAL_MS).length <= MOST_REVIVALS) made.webContents.reload();
		});
		await made.loadURL(`${ORIGIN}/`);
	}

	registerScheme();
	lockDown();
	serveCalls(services, () => window);

	app.on("second-instance", (_event, _argv, _folder, data) => {
		const { argument, folder } = data as typeof wish;
		if (window?.isMinimized()) window.restore();
		window?.focus();
		void open(argument, folder);
	});
	app.on("open-file", (event, path) => {
		event.preventDefault();
		if (app.isReady()) void open(path, "/");
		else first = { argument: path, folder: "/" };
	});
	app.on("activate", () => {
		if (window === null && app.isReady()) void makeWindow();
	});
	app.on("window-all-closed", () => {
		// On a Mac a program stays in the dock without windows.
		if (process.platform !== "darwin") app.quit();
	});

	void app.whenReady().then(async () => {
		lockSession(session.defaultSession);
		serveScheme(session.defaultSession, await createWindowContent(join(app.getAppPath(), "dist", "window"), grants));
		const deeds = {
			openFile: () => {
				if (window === null) return;
				void chooseFile(window).then((path) => open(path ?? undefined, "/"));
			},
			showKept: () => void shell.openPath(resolve(home, "commissions")),
		};
		Menu.setApplicationMenu(Menu.buildFromTemplate(menuTemplate(deeds, process.platform, app.isPackaged)));
		await open(first.argument, first.folder);
		await makeWindow();
	});
}
