/** Puts the window together: worker, session, what the holder was asked to open. */

import { effect } from "@preact/signals";
import { render } from "preact";
import { App } from "./App.tsx";
import { newId } from "./bench/benchWork.ts";
import { call } from "./bridge.ts";
import { createJobClient } from "./jobs/jobClient.ts";
import type { Jobs } from "./jobs/shown.ts";
import { SessionContext } from "./state/context.ts";
import { browserStore } from "./state/held.ts";
import { browserCopies } from "./state/scanCopies.ts";
import { createSession } from "./state/session.ts";
import { troubleWords } from "./state/troubleWords.ts";
import { followSystemTheme, handedOver, recents, rememberLook } from "./state/ui.ts";
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
	async fingerprint(text) {
		const sum = await crypto.subtle.digest("SHA-256", new TextEncoder().encode(text));
		return [...new Uint8Array(sum)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
	},
	held: browserStore(),
	scans: browserCopies(),
});

followSystemTheme();
render(
	<SessionContext.Provider value={session}>
		<App />
	</SessionContext.Provider>,
	document.getElementById("window") as HTMLElement,
);

/** What was worked on when the page died or was loaded anew; its address says so. */
const workedOn = (): string | undefined => /^#([0-9a-f]{16})$/.exec(location.hash)?.[1];

async function begin(): Promise<void> {
	const before = workedOn();
	handedOver.value = await session.handOver();
	const { open, recents: found, look } = await call("hello", {});
	recents.value = found;
	// What the window looks like is not worth a message when it cannot be kept.
	rememberLook(look, (now) => void call("keepLook", now).catch(() => {}));
	effect(() => {
		const id = session.standsAs.value;
		if (id !== (workedOn() ?? null)) history.replaceState(null, "", id === null ? "./" : `#${id}`);
	});
	if (before !== undefined) await session.openRecent(before);
	else if (open.kind === "scan") await session.openScan({ kind: "grant", ...open.grant });
	else if (open.kind === "demo") await session.openDemo(open.name);
	else if (open.kind === "commission") await session.openDocument(open.text, open);
}
begin().catch((trouble: unknown) => {
	session.openTrouble.value = troubleWords(trouble);
});
