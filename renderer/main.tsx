/** Puts the window together: worker, session, what the holder was asked to open. */

import { render } from "preact";
import { App } from "./App.tsx";
import { newId } from "./bench/benchWork.ts";
import { call } from "./bridge.ts";
import { createJobClient } from "./jobs/jobClient.ts";
import type { Jobs } from "./jobs/shown.ts";
import { SessionContext } from "./state/context.ts";
import { createSession } from "./state/session.ts";
import { followSystemTheme, recents, rememberLook } from "./state/ui.ts";
import "./style/window.css";

const worker = new Worker(new URL("./jobs/job.worker.ts", import.meta.url), { type: "module" });
const jobs = createJobClient<Jobs>(worker);
worker.onerror = (event) =>
	jobs.abandon(`The planner's worker stopped: ${event.message}. Reload the window; nothing is lost.`);

const session = createSession({
	jobs,
	call,
	now: () => performance.now(),
	after(ms, then) {
		const timer = setTimeout(then, ms);
		return () => clearTimeout(timer);
	},
	newId,
});

followSystemTheme();
render(
	<SessionContext.Provider value={session}>
		<App />
	</SessionContext.Provider>,
	document.getElementById("window") as HTMLElement,
);

async function begin(): Promise<void> {
	const { open, recents: found, look } = await call("hello", {});
	recents.value = found;
	// What the window looks like is not worth a message when it cannot be kept.
	rememberLook(look, (now) => void call("keepLook", now).catch(() => {}));
	if (open.kind === "scan") await session.openScan({ kind: "grant", ...open.grant });
	else if (open.kind === "demo") await session.openDemo(open.name);
	else if (open.kind === "commission")
		await session.openCommission(open.text, open.grant, newId(), null, open.stoneGrant);
}
begin().catch((trouble: unknown) => {
	session.openTrouble.value = trouble instanceof Error ? trouble.message : String(trouble);
});
