/** Runs as a child process: keeps one commission over and over, a new name each time, and says after which it stands. */

import { createCommissions } from "../../electron/files/commissions.ts";
import { nodeFiles } from "../../electron/files/fileLayer.ts";

const [home, id, template] = process.argv.slice(2);
const commissions = createCommissions(nodeFiles, home);
const document = JSON.parse(template) as Record<string, unknown>;
process.stdout.write("ready\n");
for (let i = 0; ; i++) {
	await commissions.keep(id, JSON.stringify({ ...document, name: `state ${i}`, filler: "x".repeat(200_000) }), null);
	process.stdout.write(`${i}\n`);
}
