/** The bridge's wire in the shell: one channel, and only the page of our own window may speak on it. */

import { type BrowserWindow, type IpcMainInvokeEvent, ipcMain } from "electron";
import { answerCall, refused, shellRequests } from "../answerCall.ts";
import type { Services } from "../services.ts";
import { CHANNEL } from "./channel.ts";
import { isOurs } from "./scheme.ts";

function isOurPage({ sender, senderFrame }: IpcMainInvokeEvent, window: BrowserWindow | null): boolean {
	// A frame is null once it has gone away; an embedded one is not the page.
	if (window === null || senderFrame === null) return false;
	return sender === window.webContents && senderFrame === sender.mainFrame && isOurs(senderFrame.url);
}

/** Answers the window's calls; `windowNow` gives the one window there is. */
export function serveCalls(services: Services, windowNow: () => BrowserWindow | null): void {
	ipcMain.handle(CHANNEL, (event, name: unknown, request: unknown) =>
		isOurPage(event, windowNow())
			? answerCall(services, name, request, shellRequests)
			: refused("bridge.sender", "Only Puntello's own window may call."),
	);
}
