/** The one window: locked, brought back when its page dies, and asked before it goes with work that is nowhere safe. */

import { join } from "node:path";
import { app, BrowserWindow, dialog } from "electron";
import { keepState, recallState } from "./windowState.ts";

/** Paper and slate, so that no other ground flashes before the page is drawn. */
const GROUND = { light: "#f6f1e6", dark: "#262d30" };
/** A page that dies this often within a minute would die for ever. */
const MOST_REVIVALS = 3;
const REVIVAL_MS = 60_000;

export interface MainWindowWish {
	/** Where the window's place is remembered. */
	readonly statePath: string;
	readonly dark: boolean;
	/** The first screen, with nothing opened. */
	beginAnew(): void;
	closed(): void;
}

/** Makes the window; what it shows is loaded by whoever asked for it. */
export function makeMainWindow({ statePath, dark, beginAnew, closed }: MainWindowWish): BrowserWindow {
	const { maximised, ...place } = recallState(statePath);
	const window = new BrowserWindow({
		...place,
		minWidth: 900,
		minHeight: 600,
		show: false,
		title: "Puntello",
		backgroundColor: dark ? GROUND.dark : GROUND.light,
		webPreferences: {
			preload: join(app.getAppPath(), "dist", "shell", "preload.cjs"),
			contextIsolation: true,
			sandbox: true,
			nodeIntegration: false,
			webSecurity: true,
			webviewTag: false,
			navigateOnDragDrop: false,
			spellcheck: false,
			devTools: !app.isPackaged,
		},
	});
	keepState(window, statePath);
	window.once("ready-to-show", () => {
		if (maximised) window.maximize();
		window.show();
	});
	window.on("closed", closed);
	revive(window, beginAnew);
	askBeforeLoss(window);
	return window;
}

/** A page that died is loaded again, and goes on with what its address says it was on; not for ever. */
function revive(window: BrowserWindow, beginAnew: () => void): void {
	let deaths: number[] = [];
	window.webContents.on("render-process-gone", (_event, { reason }) => {
		if (reason === "clean-exit" || window.isDestroyed()) return;
		const now = Date.now();
		deaths = [...deaths.filter((then) => now - then < REVIVAL_MS), now];
		if (deaths.length <= MOST_REVIVALS) window.webContents.reload();
		else if (deaths.length === MOST_REVIVALS + 1)
			void tellOfEnd(window).then((anew) => {
				deaths = [];
				if (anew) beginAnew();
			});
	});
}

/** What the page was on may be what kills it, so the carver decides; whether to begin anew. */
async function tellOfEnd(window: BrowserWindow): Promise<boolean> {
	const { response } = await dialog.showMessageBox(window, {
		type: "warning",
		message: "The window has stopped several times within a minute.",
		detail: "What you entered is kept. Begin anew on the first screen, and go on with it from there.",
		buttons: ["Begin anew", "Close"],
		defaultId: 0,
		cancelId: 1,
	});
	if (response !== 0 && !window.isDestroyed()) window.destroy();
	return !window.isDestroyed();
}

/** The page objects to going only while work could be neither kept nor held; unasked, the window could never be closed. */
function askBeforeLoss(window: BrowserWindow): void {
	window.webContents.on("will-prevent-unload", (event) => {
		const answer = dialog.showMessageBoxSync(window, {
			type: "warning",
			message: "The last changes could not be kept.",
			detail: "The day book says why. Stay, and save the commission as a file, or close without them.",
			buttons: ["Stay", "Close without them"],
			defaultId: 0,
			cancelId: 0,
		});
		if (answer === 1) event.preventDefault();
	});
}
