/** Where this person's commissions are kept. */

import { homedir } from "node:os";
import { join } from "node:path";

/** PUNTELLO_HOME where it is set, else the platform's folder for the data of programs. */
export function userFolder(
	env: Readonly<Record<string, string | undefined>> = process.env,
	platform: string = process.platform,
	home: string = homedir(),
): string {
	if (env.PUNTELLO_HOME) return env.PUNTELLO_HOME;
	if (platform === "win32") return join(env.APPDATA || join(home, "AppData", "Roaming"), "Puntello");
	if (platform === "darwin") return join(home, "Library", "Application Support", "Puntello");
	return join(env.XDG_DATA_HOME || join(home, ".local", "share"), "puntello");
}
