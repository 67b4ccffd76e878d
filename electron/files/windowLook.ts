/** How this person likes the window, kept from one day to the next. */

import { join } from "node:path";
import { type WindowLook, windowLook } from "../bridge/contract.ts";
import type { FileLayer } from "./fileLayer.ts";
import { replaceFile } from "./replaceFile.ts";

export interface KeptLook {
	/** As it was left; as new where nothing was kept or it cannot be read. */
	recall(): Promise<WindowLook>;
	keep(look: WindowLook): Promise<void>;
}

export function createKeptLook(layer: FileLayer, home: string): KeptLook {
	const path = join(home, "look.json");
	return {
		async recall() {
			try {
				return windowLook.parse(JSON.parse(new TextDecoder().decode(await layer.read(path))));
			} catch {
				// A window that looks as new is all that is lost.
				return windowLook.parse({});
			}
		},
		keep: (look) => replaceFile(layer, path, new TextEncoder().encode(JSON.stringify(look, null, "\t"))),
	};
}
