/** The binary of the desktop shell, which comes from outside the package registry and is therefore fetched on first use. */

import { spawn } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";

/** How long the first answer of the place it comes from may take, and the whole of it, ms. */
const PROBE_MS = 5_000;
const FETCH_MS = 240_000;

const packageFolder = (): string => dirname(createRequire(import.meta.url).resolve("electron/package.json"));

/** Path of the binary, or null while it has not been fetched. */
export function installedShell(folder = packageFolder()): string | null {
	const note = join(folder, "path.txt");
	if (!existsSync(note)) return null;
	const base = process.env.ELECTRON_OVERRIDE_DIST_PATH ?? join(folder, "dist");
	const path = join(base, readFileSync(note, "utf8"));
	return existsSync(path) ? path : null;
}

/** Whether the place that the binary comes from answers at all; the installer itself would wait for minutes. */
async function reachable(version: string): Promise<boolean> {
	const mirror = process.env.ELECTRON_MIRROR ?? process.env.npm_config_electron_mirror;
	const address = mirror ?? `https://github.com/electron/electron/releases/download/v${version}/SHASUMS256.txt`;
	try {
		const answer = await fetch(address, { method: "HEAD", signal: AbortSignal.timeout(PROBE_MS) });
		return answer.ok;
	} catch {
		return false;
	}
}

/** Fetches the binary with the package's own installer, which checks it against the sums that the package carries. */
export async function fetchShell(report: (line: string) => void): Promise<string | null> {
	const folder = packageFolder();
	const { version } = JSON.parse(readFileSync(join(folder, "package.json"), "utf8")) as { version: string };
	if (!(await reachable(version))) return null;
	report("Fetching the desktop shell, about 120 MB, once …");
	const child = spawn(process.execPath, [join(folder, "install.js")], { stdio: "ignore", timeout: FETCH_MS });
	const done = await new Promise<boolean>((resolve) => {
		child.once("error", () => resolve(false));
		child.once("exit", (code) => resolve(code === 0));
	});
	return done ? installedShell(folder) : null;
}
