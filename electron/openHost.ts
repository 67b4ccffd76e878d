/** The loopback host with everything it needs, over one person's folder. */

import { readFileSync } from "node:fs";
import { join } from "node:path";
import { PROJECT, WINDOW_FOLDER } from "./build.ts";
import { createCommissions } from "./files/commissions.ts";
import { nodeFiles } from "./files/fileLayer.ts";
import { createKeptPort } from "./files/keptPort.ts";
import { createScanGrants } from "./files/scanGrants.ts";
import { userFolder } from "./files/userFolder.ts";
import { createKeptLook } from "./files/windowLook.ts";
import { type Host, startHost } from "./host.ts";
import { openingOf } from "./opening.ts";
import { browserHolder, createServices } from "./services.ts";
import { createWindowContent } from "./windowContent.ts";

export interface HostWish {
	/** A scan, a commission or a demo; nothing opens on the first screen. */
	readonly argument?: string;
	readonly home?: string;
	/** The built renderer. */
	readonly windowFolder?: string;
}

export const version = (): string =>
	(JSON.parse(readFileSync(join(PROJECT, "package.json"), "utf8")) as { version: string }).version;

/** Refuses an argument that cannot be opened, before anything listens. */
export async function openHost(wish: HostWish = {}): Promise<Host> {
	const grants = createScanGrants(nodeFiles);
	const opening = await openingOf(wish.argument, nodeFiles, grants);
	const content = await createWindowContent(wish.windowFolder ?? WINDOW_FOLDER, grants);
	const home = wish.home ?? userFolder();
	const commissions = createCommissions(nodeFiles, home);
	const services = createServices({
		holder: browserHolder,
		version: version(),
		layer: nodeFiles,
		grants,
		commissions,
		look: createKeptLook(nodeFiles, home),
		opening: () => opening,
	});
	const port = createKeptPort(nodeFiles, home);
	const host = await startHost(content, services, await port.recall());
	// Where it cannot be kept, the next host takes another port, and a window that is open still has to be saved by hand.
	await port.keep(host.port).catch(() => {});
	return host;
}
