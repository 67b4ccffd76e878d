/**
 * Runs as a child process: a scripted session that changes its commission again and again, now fast, now with a pause, and
 * keeps it as the window does. Says when each state was made, and once when the first stands on the disk.
 */

import { signal } from "@preact/signals";
import type { Commission, LogEntry } from "../../core/plan/commission.ts";
import { createCommissions } from "../../electron/files/commissions.ts";
import { nodeFiles } from "../../electron/files/fileLayer.ts";
import { createKeeper } from "../../renderer/state/keeper.ts";
import type { SessionTools } from "../../renderer/state/sessionTools.ts";

const [home, id, template] = process.argv.slice(2);
const commissions = createCommissions(nodeFiles, home);
const base = JSON.parse(template) as Commission;
/** A long log makes a large file, which a kill can catch half written. */
const log: LogEntry[] = Array.from({ length: 1500 }, (_, i) => ({
	kind: "note",
	id: `entry${String(i).padStart(6, "0")}`,
	at: "2030-01-01T09:00:00",
	hand: "",
	point: null,
	text: "x".repeat(100),
}));
const commission = signal<Commission | null>(null);
let first = true;
const tools: Pick<SessionTools, "call" | "after" | "now" | "newId"> = {
	now: () => performance.now(),
	newId: () => "0".repeat(16),
	after(ms, then) {
		const timer = setTimeout(then, ms);
		return () => clearTimeout(timer);
	},
	call: (async (_name: string, { text, writer, seen }: { text: string; writer: string; seen: string | null }) => {
		const reply = await commissions.keep(id, text, { scanPath: null, stonePath: null, writer, seen });
		if (first) process.stdout.write("kept\n");
		first = false;
		return reply;
	}) as unknown as SessionTools["call"],
};
const keeper = createKeeper(tools, commission);
keeper.file({ id, token: null });
let state = 0;
function change(): void {
	state++;
	commission.value = { ...base, name: `state ${state}`, log };
	process.stdout.write(`made ${state} at ${Date.now()}\n`);
	keeper.soon();
	setTimeout(change, state % 40 === 39 ? 900 : (state * 7919) % 60);
}
change();
