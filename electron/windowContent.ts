/**
 * What the window's own origin serves, the same for the shell's scheme and the host's address: the built renderer and the
 * scans that were granted, each answer under the same strict headers.
 */

import { createReadStream } from "node:fs";
import { readdir, readFile, stat } from "node:fs/promises";
import { extname, join } from "node:path";
import { Readable } from "node:stream";
import type { ScanGrants } from "./files/scanGrants.ts";

/**
 * Only what was built may run. Styles come from files (preact sets single properties, which this allows); `blob:` frames
 * and images are sheets and pictures that the window itself made.
 */
const CONTENT_SECURITY_POLICY = [
	"default-src 'none'",
	"script-src 'self'",
	"worker-src 'self'",
	"style-src 'self'",
	"img-src 'self' blob: data:",
	"connect-src 'self'",
	"font-src 'self'",
	"frame-src blob:",
	"frame-ancestors 'none'",
	"object-src 'none'",
	"base-uri 'none'",
	"form-action 'none'",
].join("; ");

/** The one worker that carries a module of machine code (the simplifier); it alone may compile it. */
const COARSE_WORKER = /^\/assets\/coarse\.worker-[\w-]+\.js$/;
const COARSE_POLICY = CONTENT_SECURITY_POLICY.replace("script-src 'self'", "script-src 'self' 'wasm-unsafe-eval'");

const SECURITY_HEADERS: Readonly<Record<string, string>> = {
	"Content-Security-Policy": CONTENT_SECURITY_POLICY,
	"Cross-Origin-Opener-Policy": "same-origin",
	"Cross-Origin-Resource-Policy": "same-origin",
	"Permissions-Policy": "camera=(), microphone=(), geolocation=(), usb=(), serial=(), hid=(), payment=()",
	"Referrer-Policy": "no-referrer",
	"X-Content-Type-Options": "nosniff",
	"X-Frame-Options": "DENY",
};

const TYPES: Readonly<Record<string, string>> = {
	".html": "text/html; charset=utf-8",
	".js": "text/javascript; charset=utf-8",
	".css": "text/css; charset=utf-8",
	".json": "application/json; charset=utf-8",
	".svg": "image/svg+xml",
	".png": "image/png",
	".webp": "image/webp",
	".woff2": "font/woff2",
	".ttf": "font/ttf",
};

/** Names with a hash in them never change what they hold. */
const HASHED_FOLDER = "/assets/";

export interface ContentRequest {
	readonly method: string;
	/** As it stands in the request, percent-encoded, without query. */
	readonly path: string;
	readonly range: string | null;
}

export type WindowContent = (request: ContentRequest) => Promise<Response>;

export function plainAnswer(status: number, text: string, headers: Record<string, string> = {}): Response {
	const bytes = new TextEncoder().encode(`${text}\n`);
	return new Response(bytes, {
		status,
		headers: {
			...SECURITY_HEADERS,
			"Content-Type": "text/plain; charset=utf-8",
			"Content-Length": String(bytes.length),
			"Cache-Control": "no-store",
			...headers,
		},
	});
}

interface Range {
	readonly first: number;
	/** Inclusive. */
	readonly last: number;
}

/**
 * The byte range asked for (RFC 9110, 14.1.2): null for the whole, "unsatisfiable" where it lies past the end. Several
 * ranges at once, and units other than bytes, are answered with the whole, as the standard allows.
 */
function parseRange(header: string | null, size: number): Range | null | "unsatisfiable" {
	const match = /^bytes=(\d*)-(\d*)$/.exec(header ?? "");
	if (!match || (match[1] === "" && match[2] === "")) return null;
	if (match[1] === "") {
		const length = Math.min(Number(match[2]), size);
		return length === 0 ? "unsatisfiable" : { first: size - length, last: size - 1 };
	}
	const first = Number(match[1]);
	const last = match[2] === "" ? size - 1 : Math.min(Number(match[2]), size - 1);
	if (match[2] !== "" && Number(match[2]) < first) return null;
	return first >= size ? "unsatisfiable" : { first, last };
}

async function scanAnswer(path: string, { method, range: header }: ContentRequest): Promise<Response> {
	const facts = await stat(path).catch(() => null);
	if (!facts?.isFile()) return plainAnswer(410, "The scan is no longer where it was.");
	const headers: Record<string, string> = {
		...SECURITY_HEADERS,
		"Content-Type": "application/octet-stream",
		"Cache-Control": "no-store",
		"Accept-Ranges": "bytes",
	};
	const range = parseRange(header, facts.size);
	if (range === "unsatisfiable") {
		return plainAnswer(416, "Past the end of the scan.", { "Content-Range": `bytes */${facts.size}` });
	}
	const first = range?.first ?? 0;
	const last = range?.last ?? facts.size - 1;
	headers["Content-Length"] = String(last - first + 1);
	if (range) headers["Content-Range"] = `bytes ${first}-${last}/${facts.size}`;
	const status = range ? 206 : 200;
	if (method === "HEAD" || last < first) return new Response(null, { status, headers });
	const stream = Readable.toWeb(createReadStream(path, { start: first, end: last }));
	return new Response(stream as ReadableStream<Uint8Array>, { status, headers });
}

/** Every regular file under the folder by the path at which it is served; links are left out. */
async function filesServed(
	folder: string,
	served = "/",
	files = new Map<string, string>(),
): Promise<Map<string, string>> {
	// Step by step, because the packed archive of an installed program does not know how to list a tree at once.
	for (const entry of await readdir(folder, { withFileTypes: true })) {
		const path = join(folder, entry.name);
		if (entry.isDirectory()) await filesServed(path, `${served}${entry.name}/`, files);
		else if (entry.isFile()) files.set(served + entry.name, path);
	}
	return files;
}

/** The path decoded once, or null where it is not plainly a path: bad encoding, a step upwards, a backslash, a NUL. */
function normalPath(path: string): string | null {
	if (!path.startsWith("/")) return null;
	let decoded: string;
	try {
		decoded = decodeURIComponent(path);
	} catch {
		return null;
	}
	if (decoded.includes("\\") || decoded.includes("\0")) return null;
	return decoded.split("/").some((step) => step === ".." || step === ".") ? null : decoded;
}

/**
 * Serves the built renderer in `root`. The files are listed once and nothing else is ever looked up, so that no path,
 * however it is written, leads outside.
 */
export async function createWindowContent(root: string, grants: ScanGrants): Promise<WindowContent> {
	const files = await filesServed(root);
	return async (request) => {
		if (request.method !== "GET" && request.method !== "HEAD") {
			return plainAnswer(405, "Only reading is possible here.", { Allow: "GET, HEAD" });
		}
		const path = normalPath(request.path);
		if (path === null) return plainAnswer(400, "That is not a path.");
		const token = /^\/scan\/([0-9a-f]{32})$/.exec(path)?.[1];
		if (token !== undefined) {
			const scan = grants.redeem(token);
			return scan === null ? plainAnswer(404, "No scan is granted under that token.") : scanAnswer(scan, request);
		}
		const file = files.get(path === "/" ? "/index.html" : path);
		if (file === undefined) return plainAnswer(404, "Nothing is served there.");
		const bytes = await readFile(file);
		return new Response(request.method === "HEAD" ? null : bytes, {
			status: 200,
			headers: {
				...SECURITY_HEADERS,
				...(COARSE_WORKER.test(path) ? { "Content-Security-Policy": COARSE_POLICY } : {}),
				"Content-Type": TYPES[extname(file)] ?? "application/octet-stream",
				"Content-Length": String(bytes.length),
				"Cache-Control": path.startsWith(HASHED_FOLDER) ? "public, max-age=31536000, immutable" : "no-store",
			},
		});
	};
}
