/** What no window of the shell may do, whatever a page asks: a scan is a stranger's file. */

import { app, type Session, type WebContents } from "electron";
import { isOurs, SCHEME } from "./scheme.ts";

/** The browser's own viewer of PDFs, which it puts into a frame of the print window. */
export const PDF_VIEWER = "chrome-extension://mhjfbmdgcfjbbpaeojofohoefgiehjai/";

function lockContents(contents: WebContents): void {
	const stay = (event: { preventDefault(): void; readonly url: string; readonly isMainFrame: boolean }): void => {
		const viewer = !event.isMainFrame && event.url.startsWith(PDF_VIEWER);
		if (!isOurs(event.url) && !viewer) event.preventDefault();
	};
	contents.on("will-navigate", stay);
	contents.on("will-redirect", stay);
	contents.on("will-frame-navigate", stay);
	contents.on("will-attach-webview", (event) => event.preventDefault());
	contents.setWindowOpenHandler(() => ({ action: "deny" }));
}

/** Has to be called before the first window is made. */
export function lockDown(): void {
	app.enableSandbox();
	app.on("web-contents-created", (_event, contents) => lockContents(contents));
	app.on("certificate-error", (event, _contents, _url, _error, _certificate, callback) => {
		event.preventDefault();
		callback(false);
	});
}

/**
 * No permissions, no devices, no downloads, and nothing fetched from anywhere but the program itself; `alsoFrom` lists
 * beginnings of further addresses that are parts of the browser.
 */
export function lockSession(session: Session, alsoFrom: readonly string[] = []): void {
	session.setPermissionRequestHandler((_contents, _permission, callback) => callback(false));
	session.setPermissionCheckHandler(() => false);
	session.setDevicePermissionHandler(() => false);
	session.setDisplayMediaRequestHandler(null);
	session.on("will-download", (event) => event.preventDefault());
	session.webRequest.onBeforeRequest((details, callback) => {
		const made = details.url.startsWith(`blob:${SCHEME}://window/`) || details.url.startsWith("data:image/");
		// The developer's tools of an unpacked program; an installed one never opens them.
		const tools = !app.isPackaged && details.url.startsWith("devtools://");
		const allowed = isOurs(details.url) || made || tools || alsoFrom.some((start) => details.url.startsWith(start));
		callback({ cancel: !allowed });
	});
}
