/** The desktop shell: one locked window over the built renderer. This file only puts the parts together. */

import { mkdirSync } from "node:fs";
import { join, resolve } from "node:path";
import { app, type BrowserWindow, dialog, Menu, nativeTheme, session, shell } from "electron";
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
import { makeMainWindow } from "./mainWindow.ts";
import { menuTemplate } from "./menu.ts";
import { ORIGIN, registerScheme, serveScheme } from "./scheme.ts";
import { serveCalls } from "./serveCalls.ts";

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
	let window: BrowserWindow | null = null;
	let opening: Opening = { kind: "nothing" };
	let first = wish;

	const commissions = createCommissions(nodeFiles, home);
	const look = createKeptLook(nodeFiles, home);
	const services = createServices({
		holder: shellHolder(nodeFiles, () => window),
		version: app.getVersion(),
		layer: nodeFiles,
		grants,
		commissions,
		look,
		opening: () => opening,
	});

	/** Takes the file for what the next page is to open; whether there was one that can be opened. */
	async function take(argument: string | undefined, folder: string): Promise<boolean> {
		if (argument === undefined) return false;
		try {
			opening = await openingOf(argument, nodeFiles, grants, folder);
		} catch (error) {
			if (!(error instanceof Refusal)) throw error;
			const message = refusalText(error.issue);
			await (window ? dialog.showMessageBox(window, { message }) : dialog.showMessageBox({ message }));
			return false;
		}
		if (opening.kind !== "demo") app.addRecentDocument(resolve(folder, argument));
		return true;
	}

	/** Loads the page, in a new window where there is none, as on a Mac; what it showed before is kept already. */
	async function show(): Promise<void> {
		const { theme } = await look.recall();
		window ??= makeMainWindow({
			statePath: join(home, "window.json"),
			dark: theme === null ? nativeTheme.shouldUseDarkColors : theme === "slate",
			beginAnew() {
				opening = { kind: "nothing" };
				void show();
			},
			closed() {
				window = null;
				// The next window begins on the first screen, where what was worked on stands.
				opening = { kind: "nothing" };
			},
		});
		// Refused only where the carver would rather stay, or another file was asked for meanwhile.
		await window.loadURL(`${ORIGIN}/`).catch(() => {});
	}

	/** Opens a file in the program that runs already. */
	async function open(argument: string | undefined, folder: string): Promise<void> {
		if (await take(argument, folder)) await show();
	}

	registerScheme();
	lockDown();
	serveCalls(services, () => window);

	app.on("second-instance", (_event, _argv, _folder, data) => {
		const { argument, folder } = data as typeof wish;
		if (window?.isMinimized()) window.restore();
		window?.focus();
		if (window === null && argument === undefined) void show();
		void open(argument, folder);
	});
	app.on("open-file", (event, path) => {
		event.preventDefault();
		if (app.isReady()) void open(path, "/");
		else first = { argument: path, folder: "/" };
	});
	app.on("activate", () => {
		if (window === null && app.isReady()) void show();
	});
	app.on("window-all-closed", () => {
		// On a Mac a program stays in the dock without windows.
		if (process.platform !== "darwin") app.quit();
	});

	let mayQuit = false;
	app.on("will-quit", (event) => {
		// The last change may still be on its way to the disk.
		if (mayQuit) return;
		event.preventDefault();
		void commissions.settled().then(() => {
			mayQuit = true;
			app.quit();
		});
	});

	void app.whenReady().then(async () => {
		lockSession(session.defaultSession);
		serveScheme(session.defaultSession, await createWindowContent(join(app.getAppPath(), "dist", "window"), grants));
		const deeds = {
			openFile: () => {
				void chooseFile(window).then((path) => open(path ?? undefined, "/"));
			},
			showKept: () => void shell.openPath(resolve(home, "commissions")),
		};
		Menu.setApplicationMenu(Menu.buildFromTemplate(menuTemplate(deeds, process.platform, app.isPackaged)));
		await take(first.argument, first.folder);
		await show();
	});
}
