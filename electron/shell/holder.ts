/** What the shell can do for its window and a browser cannot: the system's own dialogues. */

import { randomBytes } from "node:crypto";
import { basename, join } from "node:path";
import { app, BrowserWindow, dialog, type OpenDialogOptions, powerSaveBlocker, session } from "electron";
import { Refusal } from "../../core/refusal.ts";
import type { FileLayer } from "../files/fileLayer.ts";
import { replaceFile } from "../files/replaceFile.ts";
import type { Holder } from "../services.ts";
import { lockSession, PDF_VIEWER } from "./lockDown.ts";
import { ORIGIN, SCHEME } from "./scheme.ts";

const OPENED = [
	{ name: "Scans and commissions", extensions: ["stl", "ply", "json", "commission"] },
	{ name: "All files", extensions: ["*"] },
];

const STONES = [
	{ name: "Scans and faces of stones", extensions: ["stl", "ply", "json"] },
	{ name: "All files", extensions: ["*"] },
];

/** Asks over the window, or by itself where there is none. */
export async function chooseFile(
	window: BrowserWindow | null,
	what: "work" | "stone" = "work",
): Promise<string | null> {
	const wish: OpenDialogOptions = {
		title: what === "stone" ? "Open the stone's file" : "Open a scan or commission",
		filters: what === "stone" ? STONES : OPENED,
		properties: ["openFile"],
	};
	const { canceled, filePaths } = await (window ? dialog.showOpenDialog(window, wish) : dialog.showOpenDialog(wish));
	return canceled || filePaths.length === 0 ? null : filePaths[0];
}

/** Shows the PDF in a window of its own that knows nothing of the bridge, and asks the system to print it. */
async function print(owner: BrowserWindow, bytes: Uint8Array): Promise<"printed" | "cancelled"> {
	// A fresh session in memory: the sheet is the one thing it can reach.
	const apart = session.fromPartition(`sheet-${randomBytes(8).toString("hex")}`);
	lockSession(apart, [PDF_VIEWER]);
	// Without the window's policy, which would keep out the page that the browser's viewer of PDFs brings along.
	apart.protocol.handle(
		SCHEME,
		() => new Response(new Uint8Array(bytes), { headers: { "Content-Type": "application/pdf" } }),
	);
	const viewer = new BrowserWindow({
		parent: owner,
		title: "Sheet",
		width: 900,
		height: 1000,
		webPreferences: { session: apart, sandbox: true, contextIsolation: true, nodeIntegration: false, plugins: true },
	});
	try {
		await viewer.loadURL(`${ORIGIN}/sheet.pdf`);
		return await new Promise((resolve, reject) => {
			viewer.webContents.print({ silent: false }, (success, reason) => {
				if (success) resolve("printed");
				else if (/cancel/i.test(reason)) resolve("cancelled");
				else reject(new Refusal("print.failed", { reason }));
			});
		});
	} finally {
		viewer.destroy();
	}
}

export function shellHolder(layer: FileLayer, windowNow: () => BrowserWindow | null): Holder {
	const owner = (): BrowserWindow => {
		const window = windowNow();
		if (window === null) throw new Error("a call came from a window that is gone");
		return window;
	};
	let awake: number | null = null;
	return {
		kind: "shell",
		keepAwake(on) {
			if (on && awake === null) awake = powerSaveBlocker.start("prevent-display-sleep");
			if (!on && awake !== null) {
				powerSaveBlocker.stop(awake);
				awake = null;
			}
			return true;
		},
		chooseFile: (what) => chooseFile(owner(), what),
		async saveFile(name, bytes) {
			const defaultPath = join(app.getPath("documents"), basename(name));
			const { canceled, filePath } = await dialog.showSaveDialog(owner(), { defaultPath });
			if (canceled || !filePath) return "cancelled";
			await replaceFile(layer, filePath, bytes);
			return "saved";
		},
		printPdf: (bytes) => print(owner(), bytes),
	};
}
