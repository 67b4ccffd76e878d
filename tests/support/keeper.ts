/**
 * Runs as a child process: a scripted session that goes on with its commission where there is one, changes it again and
 * again, now fast, now with a pause, and keeps it as the window does. Says when each state was made, and once when its
 * first stands on the disk.
 */

import { signal } from "@preact/signals";
import type { Commission, LogEntry } from "../../core/plan/commission.ts";
import { createCommissions } from "../../electron/files/commissions.ts";
import { nodeFiles } from "../../electron/files/fileLayer.ts";
import { versionOf } from "../../electron/files/journal.ts";
import { createKeeper, type KeeperTools } from "../../renderer/state/keeper.ts";
import { emptyStore } from "./heldStore.ts";

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
const tools: KeeperTools = {
	now: () => performance.now(),
	newId: () => "0".repeat(16),
	fingerprint: async (text) => versionOf(new TextEncoder().encode(text)),
	held: emptyStore(),
	after(ms, then) {
		const timer = setTimeout(then, ms);
		return () => clearTimeout(timer);
	},
	call: (async (_name: string, { text, writer, seen }: { text: string; writer: string; seen: string[] }) => {
		const reply = await commissions.keep(id, text, { scanPath: null, stonePath: null, writer, seen });
		if (first) process.stdout.write("kept\n");
		first = false;
		return reply;
	}) as unknown as KeeperTools["call"],
};
const keeper = createKeeper(tools, commission);
let state = 0;
const found = await commissions.recall(id).catch(() => null);
if (found) state = Number((JSON.parse(found.text) as Commission).name.slice("state ".length));
keeper.file({ id, token: null, seen: found?.version ?? null });
function change(): void {
	state++;
	commission.value = { ...base, name: `state ${state}`, log };
	process.stdout.write(`made ${state} at ${Date.now()}\n`);
	keeper.soon();
	setTimeout(change, state % 40 === 39 ? 900 : (state * 7919) % 60);
}
change();
