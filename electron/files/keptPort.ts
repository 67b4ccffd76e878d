/** The port of the loopback host that ran last, so that a window which is still open finds the next one. */

import { join } from "node:path";
import { z } from "zod";
import type { FileLayer } from "./fileLayer.ts";
import { replaceFile } from "./replaceFile.ts";

const schema = z.object({ port: z.int().min(1024).max(65_535) });

export interface KeptPort {
	/** null where none was kept or it cannot be read. */
	recall(): Promise<number | null>;
	keep(port: number): Promise<void>;
}

export function createKeptPort(layer: FileLayer, home: string): KeptPort {
	const path = join(home, "host.json");
	return {
		async recall() {
			try {
				return schema.parse(JSON.parse(new TextDecoder().decode(await layer.read(path)))).port;
			} catch {
				return null;
			}
		},
		keep: (port) => replaceFile(layer, path, new TextEncoder().encode(JSON.stringify({ port }))),
	};
}
