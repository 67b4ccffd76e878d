/** The window: day book, banker, tape; dropped files and the keys that work everywhere. */

import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { BankerView } from "./banker/BankerView.tsx";
import { HolePanel } from "./banker/HolePanel.tsx";
import { WindowBench } from "./bench/WindowBench.tsx";
import { Book } from "./book/Book.tsx";
import { PointList } from "./book/PointList.tsx";
import { First } from "./First.tsx";
import { HelpView } from "./help/HelpView.tsx";
import { MapShown } from "./MapShown.tsx";
import { Opening } from "./Opening.tsx";
import { useSession } from "./state/context.ts";
import { saveAs, takeFile } from "./state/files.ts";
import { sheetShown } from "./state/sheets.ts";
import { benchShown, held, helpShown, holeShown, listShown, PAGES, page, picking, turnTo } from "./state/ui.ts";
import { Tape } from "./tape/Tape.tsx";

export function App() {
	const session = useSession();
	const dropping = useSignal(false);
	useEffect(() => {
		const name = session.commission.value?.name;
		document.title = name === undefined ? "Puntello" : `${name} – Puntello`;
	}, [session.commission.value?.name]);
	useEffect(() => {
		const keys = (event: KeyboardEvent): void => {
			const writing = event.target instanceof HTMLElement && event.target.matches("[data-writing], input[type=search]");
			const command = event.ctrlKey || event.metaKey;
			if (command && !event.altKey && event.key.toLowerCase() === "z") {
				if (writing) return;
				event.preventDefault();
				if (event.shiftKey) session.redo();
				else session.undo();
			} else if (command && event.key.toLowerCase() === "s") {
				event.preventDefault();
				if (session.commission.value) void saveAs(session.commission.value);
			} else if (command && event.key.toLowerCase() === "y") {
				event.preventDefault();
				session.redo();
			} else if (event.key === "F1") {
				event.preventDefault();
				helpShown.value = helpShown.value === null ? "commission" : null;
			} else if (event.key === "Escape") {
				if (benchShown.value) benchShown.value = false;
				else if (helpShown.value !== null) helpShown.value = null;
				else if (picking.value) picking.value = null;
				else if (sheetShown.value !== null) sheetShown.value = null;
				else if (holeShown.value !== null) holeShown.value = null;
				else if (listShown.value) listShown.value = false;
				else held.value = null;
			} else if (event.altKey && /^[1-5]$/.test(event.key)) {
				event.preventDefault();
				turnTo(PAGES[Number(event.key) - 1]);
				document.querySelector<HTMLElement>(`[data-page="${page.value}"] .page-head`)?.focus();
			}
		};
		const leaving = (): void => session.keepNow();
		const stop = new AbortController();
		const on = <K extends keyof WindowEventMap>(kind: K, then: (event: WindowEventMap[K]) => void): void =>
			window.addEventListener(kind, then, { signal: stop.signal });
		on("keydown", keys);
		on("pagehide", leaving);
		// Only while nothing can be kept or held: then what was typed would go with the window.
		on("beforeunload", (event) => {
			if (!session.kept.value.safe) event.preventDefault();
		});
		on("dragover", (event) => {
			if (!event.dataTransfer?.types.includes("Files")) return;
			// A card that takes files itself has said so.
			dropping.value = !event.defaultPrevented;
			event.preventDefault();
		});
		on("dragleave", (event) => {
			if (event.relatedTarget === null) dropping.value = false;
		});
		on("drop", (event) => {
			dropping.value = false;
			const file = event.dataTransfer?.files[0];
			if (!file || event.defaultPrevented) return;
			event.preventDefault();
			void takeFile(session, file);
		});
		return () => stop.abort();
	}, []);
	const open = session.scan.value !== null;
	const atBench = benchShown.value && session.plan.value !== null;
	return (
		<>
			<div class={dropping.value ? "window dropping" : "window"} inert={atBench}>
				<a class="skip" href="#banker-canvas">
					to the model
				</a>
				<Book />
				<main class="banker">
					{open && <h1 class="unseen">{session.commission.value?.name}</h1>}
					{/* There from the start: making what draws takes longer than the window may be held up once it answers. */}
					<div class="banker-box" inert={!open}>
						<BankerView />
					</div>
					{open ? (
						<>
							{listShown.value && session.plan.value && <PointList wide />}
							<HolePanel />
							<MapShown />
						</>
					) : session.opens.value !== null ? (
						<Opening what={session.opens.value} />
					) : (
						<First />
					)}
					<HelpView />
				</main>
				<Tape />
			</div>
			{atBench && <WindowBench />}
		</>
	);
}
