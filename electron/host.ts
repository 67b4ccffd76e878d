/**
 * The loopback host: the same window in an ordinary browser, for machines where the desktop shell cannot be had. It listens
 * on 127.0.0.1 alone, and since every program and every web page on the machine can reach that address too, each request
 * has to prove that it comes from the one window that was let in.
 */

import { createHash, randomBytes, timingSafeEqual } from "node:crypto";
import { once } from "node:events";
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { setTimeout } from "node:timers/promises";
import { answerCall, isCallName, refused } from "./answerCall.ts";
import { httpRequests, type ReplyEnvelope } from "./bridge/contract.ts";
import type { Services } from "./services.ts";
import { plainAnswer, type WindowContent } from "./windowContent.ts";

export interface Host {
	readonly port: number;
	/** The address to open first; it lets one browser in, once. */
	readonly url: string;
	readonly origin: string;
	close(): Promise<void>;
}

/** Longest body of a call, bytes. Only a commission is large: at most 20 million characters, some of them escaped. */
const BODY_LIMIT = 64 * 1024;
const COMMISSION_LIMIT = 48 * 1024 * 1024;
const HEADER_LIMIT = 16 * 1024;
const REQUEST_MS = 60_000;
const LINGER_MS = 500;

const secret = (): string => randomBytes(32).toString("base64url");
const digest = (text: string): Buffer => createHash("sha256").update(text).digest();
/** Compared by digest, so that neither length nor content shows in the time it takes. */
const sameSecret = (a: string, b: string): boolean => timingSafeEqual(digest(a), digest(b));

function cookieOf(request: IncomingMessage, name: string): string {
	for (const part of (request.headers.cookie ?? "").split(";")) {
		const [key, value] = part.trim().split("=", 2);
		if (key === name) return value ?? "";
	}
	return "";
}

/** Why a request is turned away before anything is looked up, or null when it may go on. */
function foreign(request: IncomingMessage, authority: string): string | null {
	// Another name for this address (DNS rebinding) would make a web page the window's own origin.
	if (request.headers.host !== authority) return "This address is not served under that name.";
	const origin = request.headers.origin;
	if (origin !== undefined && origin !== `http://${authority}`) return "Requests from another origin are refused.";
	// Browsers send no Origin with plain reads, but they do say where a read comes from; "same-site" is another port here.
	const site = request.headers["sec-fetch-site"];
	if (site !== undefined && site !== "same-origin" && site !== "none") {
		return "Requests from another site are refused.";
	}
	return null;
}

/**
 * The whole body, or null once it is longer than `limit`; a length announced in the header is judged before reading. The
 * stream is left open either way, so that the refusal can still be sent.
 */
function bodyWithin(request: IncomingMessage, limit: number): Promise<Buffer | null> {
	if (Number(request.headers["content-length"] ?? 0) > limit) return Promise.resolve(null);
	return new Promise((resolve) => {
		const parts: Buffer[] = [];
		let length = 0;
		request.on("data", (part: Buffer) => {
			length += part.length;
			if (length <= limit) parts.push(part);
			else resolve(null);
		});
		request.once("end", () => resolve(Buffer.concat(parts)));
		// The other side left; whatever is answered now goes nowhere.
		request.once("error", () => resolve(null));
		request.once("close", () => resolve(null));
	});
}

async function send(request: IncomingMessage, response: ServerResponse, answer: Response): Promise<void> {
	response.writeHead(answer.status, Object.fromEntries(answer.headers));
	const gone = once(response, "close").catch(() => {});
	let owed = Number(answer.headers.get("Content-Length"));
	for await (const part of (answer.body ?? []) as AsyncIterable<Uint8Array>) {
		// A browser that turns away in the middle of a scan is no defect; leaving the loop closes the file.
		if (response.destroyed) return;
		owed -= part.length;
		if (!response.write(part)) await Promise.race([once(response, "drain"), gone]);
	}
	if (owed > 0 && request.method !== "HEAD") {
		// The scan grew shorter while it was being read: a broken connection says so, a short answer would not.
		response.destroy();
		return;
	}
	if (!request.complete) {
		// The rest of a refused body runs into nothing for a moment: closing at once would lose the answer on its way.
		request.resume();
		await Promise.race([once(request, "end"), gone, setTimeout(LINGER_MS)]);
	}
	response.end();
	if (!request.complete) request.destroy();
}

function jsonAnswer(status: number, envelope: ReplyEnvelope): Response {
	return plainAnswer(status, JSON.stringify(envelope), { "Content-Type": "application/json; charset=utf-8" });
}

async function callAnswer(services: Services, name: string, request: IncomingMessage): Promise<Response> {
	// A form on a web page can post, but not this type.
	if (request.headers["content-type"] !== "application/json") {
		return jsonAnswer(415, refused("bridge.badRequest", "A call is application/json."));
	}
	const body = await bodyWithin(request, name === "keepCommission" ? COMMISSION_LIMIT : BODY_LIMIT);
	if (body === null) {
		return jsonAnswer(413, refused("bridge.tooLong", "The request is longer than any that Puntello makes."));
	}
	let value: unknown;
	try {
		value = JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(body));
	} catch {
		return jsonAnswer(400, refused("bridge.badRequest", "The request is not JSON."));
	}
	const envelope = await answerCall(services, name, value, httpRequests);
	const wrong = !envelope.ok && envelope.code.startsWith("bridge.");
	return jsonAnswer(wrong ? (isCallName(name) ? 400 : 404) : 200, envelope);
}

/** Listens on that port where it is free, else, or where none is given, on one by chance. */
async function listen(server: Server, port: number | null): Promise<number> {
	const attempt = (wanted: number): Promise<void> =>
		new Promise((resolve, reject) => {
			server.once("error", reject);
			server.listen(wanted, "127.0.0.1", () => {
				server.off("error", reject);
				resolve();
			});
		});
	const again = port === null ? Promise.reject(new Error("none before")) : attempt(port);
	await again.catch(() => attempt(0));
	return (server.address() as AddressInfo).port;
}

/**
 * Starts the host. `before` is the port of the host that ran here last: a window that is still open, or work that a browser
 * holds for it, finds the new one there. It is no secret, and lets nobody in.
 */
export async function startHost(
	content: WindowContent,
	services: Services,
	before: number | null = null,
): Promise<Host> {
	let entry: string | null = secret();
	let session: string | null = null;
	let authority = "";
	let cookie = "";

	function enter(token: string): Response {
		if (entry === null || !sameSecret(token, entry)) {
			return plainAnswer(
				403,
				"This address has been used, or was never given out. Start Puntello again for a new one.",
			);
		}
		entry = null;
		session = secret();
		return plainAnswer(303, "Come in.", {
			Location: "/",
			"Set-Cookie": `${cookie}=${session}; Path=/; HttpOnly; SameSite=Strict`,
		});
	}

	async function answer(request: IncomingMessage): Promise<Response> {
		const reason = foreign(request, authority);
		if (reason !== null) return plainAnswer(403, reason);
		const path = (request.url ?? "").split("?", 1)[0];
		const token = /^\/enter\/([\w-]+)$/.exec(path)?.[1];
		if (token !== undefined && request.method === "GET") return enter(token);
		const call = /^\/call\/(\w{1,40})$/.exec(path)?.[1];
		if (session === null || !sameSecret(cookieOf(request, cookie), session)) {
			const reason = "Open the address that Puntello printed when it started.";
			return call === undefined ? plainAnswer(403, reason) : jsonAnswer(403, refused("bridge.session", reason));
		}
		if (call === undefined) {
			return content({ method: request.method ?? "", path, range: request.headers.range ?? null });
		}
		if (request.method !== "POST") return plainAnswer(405, "A call is posted.", { Allow: "POST" });
		if (request.headers.origin === undefined) return plainAnswer(403, "A call names its origin.");
		return callAnswer(services, call, request);
	}

	const server: Server = createServer({ maxHeaderSize: HEADER_LIMIT }, (request, response) => {
		answer(request)
			.catch((error: unknown) => {
				console.error(error);
				return plainAnswer(500, "Puntello met a defect of its own.");
			})
			.then((found) => send(request, response, found))
			// Sending fails only where nobody is there any more.
			.catch(() => response.destroy());
	});
	server.requestTimeout = REQUEST_MS;
	server.on("upgrade", (_request, socket) => socket.destroy());
	const port = await listen(server, before);
	authority = `127.0.0.1:${port}`;
	// Cookies are shared between the ports of an address, so the name carries the port.
	cookie = `puntello-${port}`;
	const origin = `http://${authority}`;
	return {
		port,
		url: `${origin}/enter/${entry}`,
		origin,
		close: () =>
			new Promise((resolve) => {
				server.close(() => resolve());
				server.closeAllConnections();
			}),
	};
}
