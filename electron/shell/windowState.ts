/** Where the window stood and how large it was, remembered from one day to the next. */

import { mkdirSync, readFileSync, renameSync, writeFileSync } from "node:fs";
import { dirname } from "node:path";
import { type BrowserWindow, type Rectangle, screen } from "electron";
import { z } from "zod";

const stateSchema = z.strictObject({
	x: z.int(),
	y: z.int(),
	width: z.int().min(200),
	height: z.int().min(200),
	maximised: z.boolean(),
});
export type WindowState = z.output<typeof stateSchema>;

const USUAL_SIZE = { width: 1360, height: 860 };
/** So much of the window has to lie on some screen, px, or it could not be taken hold of. */
const LEAST_SEEN = 120;

function isSeen(window: Rectangle): boolean {
	return screen.getAllDisplays().some(({ workArea: area }) => {
		const across = Math.min(window.x + window.width, area.x + area.width) - Math.max(window.x, area.x);
		const down = Math.min(window.y + window.height, area.y + area.height) - Math.max(window.y, area.y);
		return across >= LEAST_SEEN && down >= LEAST_SEEN;
	});
}

/** The remembered place, or the usual size where there is none, it cannot be read, or its screen has been unplugged. */
export function recallState(path: string): Partial<Rectangle> & { maximised: boolean } {
	try {
		const { maximised, ...place } = stateSchema.parse(JSON.parse(readFileSync(path, "utf8")));
		if (isSeen(place)) return { ...place, maximised };
	} catch {
		// A window at its usual size is all that is lost.
	}
	return { ...USUAL_SIZE, maximised: false };
}

/** Writes the state when the window closes, at once, because the program ends with it. */
export function keepState(window: BrowserWindow, path: string): void {
	window.on("close", () => {
		const state: WindowState = { ...window.getNormalBounds(), maximised: window.isMaximized() };
		try {
			mkdirSync(dirname(path), { recursive: true });
			writeFileSync(`${path}.part`, JSON.stringify(state));
			renameSync(`${path}.part`, path);
		} catch {
			// As above; a full disk must not keep the window from closing.
		}
	});
}
