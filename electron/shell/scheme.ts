/** The window's own origin in the shell: a scheme of ours, because a file address would let a page read the whole disk. */

import { protocol, type Session } from "electron";
import { plainAnswer, type WindowContent } from "../windowContent.ts";

export const SCHEME = "puntello";
export const ORIGIN = `${SCHEME}://window`;

/** Has to be called before the application is ready. */
export function registerScheme(): void {
	protocol.registerSchemesAsPrivileged([
		{ scheme: SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true, stream: true } },
	]);
}

/** Whether an address belongs to the window; a name that merely begins like ours does not. */
export function isOurs(address: string): boolean {
	if (!URL.canParse(address)) return false;
	const url = new URL(address);
	return url.protocol === `${SCHEME}:` && url.host === "window" && url.username === "";
}

export function serveScheme(session: Session, content: WindowContent): void {
	session.protocol.handle(SCHEME, (request) => {
		if (!isOurs(request.url)) return plainAnswer(403, "Nothing is served there.");
		const path = /^[^:]+:\/\/[^/]*(\/[^?#]*)/.exec(request.url)?.[1] ?? "/";
		return content({ method: request.method, path, range: request.headers.get("range") });
	});
}
