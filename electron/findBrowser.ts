/** Which browsers this machine has, and opening an address in the one that the person uses. */

import { spawn } from "node:child_process";
import { accessSync, constants } from "node:fs";
import { delimiter, join } from "node:path";

const CHROMIUM_NAMES = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"];
const OTHER_NAMES = ["firefox", "firefox-esr", "microsoft-edge", "epiphany", "konqueror"];

const CHROMIUM_PLACES: Readonly<Record<string, readonly string[]>> = {
	darwin: [
		"/Applications/Chromium.app/Contents/MacOS/Chromium",
		"/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
	],
	win32: [
		"C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe",
		"C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe",
		"C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe",
	],
};

type Env = Readonly<Record<string, string | undefined>>;

function isProgram(path: string): boolean {
	try {
		accessSync(path, constants.X_OK);
		return true;
	} catch {
		return false;
	}
}

/** The program of that name on the PATH, or null. */
export function onPath(name: string, env: Env = process.env): string | null {
	const folders = (env.PATH ?? "").split(delimiter).filter((folder) => folder !== "");
	return folders.map((folder) => join(folder, name)).find(isProgram) ?? null;
}

const firstOnPath = (names: readonly string[], env: Env): string | null => {
	for (const name of names) {
		const path = onPath(name, env);
		if (path !== null) return path;
	}
	return null;
};

/** An installed Chromium or one of its kin, or null. */
export function findChromium(env: Env = process.env, platform: string = process.platform): string | null {
	return firstOnPath(CHROMIUM_NAMES, env) ?? CHROMIUM_PLACES[platform]?.find(isProgram) ?? null;
}

/** Whether there is a screen to open a window on. Only Linux tells. */
export function hasDisplay(env: Env = process.env, platform: string = process.platform): boolean {
	return platform !== "linux" || Boolean(env.DISPLAY || env.WAYLAND_DISPLAY);
}

/** The command that opens an address in a browser here, or null where there is none. */
export function browserCommand(
	address: string,
	env: Env = process.env,
	platform: string = process.platform,
): readonly [string, readonly string[]] | null {
	if (!hasDisplay(env, platform)) return null;
	if (platform === "darwin") return ["open", [address]];
	if (platform === "win32") return ["rundll32", ["url.dll,FileProtocolHandler", address]];
	// The desktop's own opener is worth nothing where it has no browser to call.
	const browser = findChromium(env, platform) ?? firstOnPath(OTHER_NAMES, env);
	if (browser === null) return null;
	return [onPath("xdg-open", env) ?? browser, [address]];
}

/** Opens the address and returns at once; the browser lives on its own. Returns whether it could be started. */
export async function openInBrowser(address: string): Promise<boolean> {
	const command = browserCommand(address);
	if (command === null) return false;
	const child = spawn(command[0], command[1], { stdio: "ignore", detached: true });
	return new Promise((resolve) => {
		child.once("error", () => resolve(false));
		child.once("spawn", () => {
			child.unref();
			resolve(true);
		});
	});
}
