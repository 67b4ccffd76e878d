/**
 * The one contract between the window and whatever holds it: the desktop shell (over inter-process calls) or the loopback
 * host (over HTTP). Requests are parsed where they arrive, replies where they are used; both with strict keys.
 */

import { z } from "zod";

z.config({ jitless: true });

/** Leave to read one file: its bytes are served at `scan/<token>` of the window's own origin, with byte ranges. */
const scanGrant = z.strictObject({
	token: z.string().regex(/^[0-9a-f]{32}$/),
	name: z.string(),
	size: z.number(),
});

const recent = z.strictObject({ id: z.string(), name: z.string(), scan: z.string(), changed: z.string() });
const commissionId = z.string().regex(/^[0-9a-f]{16}$/);
/** Fingerprint of a kept text: SHA-256, lower-case hexadecimal. */
const textVersion = z.string().regex(/^[0-9a-f]{64}$/);

/** How this person likes the window; nothing in it belongs to a commission. */
export const windowLook = z.strictObject({
	/** null follows the system. */
	theme: z.enum(["paper", "slate"]).nullable().default(null),
	bookFolded: z.boolean().default(false),
	tapeFolded: z.boolean().default(false),
	/** Hints that have been read, by name. */
	hintsRead: z.array(z.string().max(40)).max(60).default([]),
});
export type WindowLook = z.output<typeof windowLook>;

/** A scan, or a commission with leave to read its scans, the model's and the stone's, where they were found. */
const scanToOpen = z.strictObject({ kind: z.literal("scan"), grant: scanGrant });
const commissionToOpen = z.strictObject({
	kind: z.literal("commission"),
	text: z.string(),
	grant: scanGrant.nullable(),
	stoneGrant: scanGrant.nullable(),
});
/** A stone by its sides or faces: a small document, handed over whole. */
const stoneToOpen = z.strictObject({ kind: z.literal("stone"), name: z.string(), text: z.string() });

/** Name → what is asked and what is answered. */
export const calls = {
	/** First call of a window: who holds it and what it was asked to open. */
	hello: {
		request: z.strictObject({}),
		reply: z.strictObject({
			holder: z.enum(["shell", "host"]),
			version: z.string(),
			/** A scan, a saved commission or a demo named on the command line. */
			open: z.union([
				scanToOpen,
				commissionToOpen,
				z.strictObject({ kind: z.literal("demo"), name: z.string() }),
				z.strictObject({ kind: z.literal("nothing") }),
			]),
			recents: z.array(recent),
			look: windowLook,
		}),
	},
	keepLook: { request: windowLook, reply: z.null() },
	/**
	 * Ask the person for a file to open by the system's own dialogue, to work on or as the stone; the host answers null,
	 * because a browser has its own.
	 */
	chooseFile: {
		request: z.strictObject({ what: z.enum(["work", "stone"]).default("work") }),
		reply: z.union([scanToOpen, commissionToOpen, stoneToOpen]).nullable(),
	},
	/** Keep a commission; `scanToken` and `stoneToken` tie it to the files its scans were opened from, if any. */
	keepCommission: {
		request: z.strictObject({
			id: commissionId,
			text: z.string().max(20_000_000),
			scanToken: z.string().nullable(),
			stoneToken: z.string().nullable().default(null),
			/** The window that asks; its own earlier texts are replaced, those of another are not. */
			writer: commissionId,
			/** Versions that may stand there: of the text that the window began with, and of those that it has sent since. */
			seen: z.array(textVersion).max(100),
		}),
		reply: z.strictObject({ changed: z.string() }),
	},
	recallCommission: {
		request: z.strictObject({ id: commissionId }),
		reply: z.strictObject({
			text: z.string(),
			version: textVersion,
			/** The text itself was spoilt, and this is how it stood before the last session. */
			earlier: z.boolean(),
			grant: scanGrant.nullable(),
			/** Of the stone's own scan, where the commission names one and it was found. */
			stoneGrant: scanGrant.nullable(),
		}),
	},
	/** Keep the screen awake while work is done from it; the host answers false, because a browser is asked by the page. */
	keepAwake: { request: z.strictObject({ on: z.boolean() }), reply: z.boolean() },
	/** Write a file where the person chooses; the host answers "download", because a browser saves by itself. */
	saveFile: {
		request: z.strictObject({ name: z.string().regex(/^[\w][\w .()-]{0,120}$/), bytes: z.instanceof(Uint8Array) }),
		reply: z.enum(["saved", "cancelled", "download"]),
	},
	/** Show the system's print dialogue for a PDF; the host answers "open", because a browser prints by itself. */
	printPdf: {
		request: z.strictObject({ bytes: z.instanceof(Uint8Array) }),
		reply: z.enum(["printed", "cancelled", "open"]),
	},
} as const;

export type CallName = keyof typeof calls;
export type Request<N extends CallName> = z.input<(typeof calls)[N]["request"]>;
export type Reply<N extends CallName> = z.output<(typeof calls)[N]["reply"]>;
export type ScanGrant = z.output<typeof scanGrant>;

/** The request as the receiver has it after parsing. */
export type ParsedRequest<N extends CallName> = z.output<(typeof calls)[N]["request"]>;

/**
 * How a call goes over HTTP: `POST call/<name>` with the request as JSON, answered by a reply envelope. A browser saves and
 * prints by itself, so the bytes of those two requests never leave it: the host is asked without them (`withoutBytes`).
 */
export const httpRequests = {
	hello: calls.hello.request,
	chooseFile: calls.chooseFile.request,
	keepCommission: calls.keepCommission.request,
	recallCommission: calls.recallCommission.request,
	keepLook: calls.keepLook.request,
	keepAwake: calls.keepAwake.request,
	saveFile: calls.saveFile.request.omit({ bytes: true }),
	printPdf: calls.printPdf.request.omit({ bytes: true }),
} as const satisfies Record<CallName, z.ZodType>;

/** The body of an HTTP call for that request. */
export function withoutBytes(request: Readonly<Record<string, unknown>>): Record<string, unknown> {
	const { bytes: _, ...rest } = request;
	return rest;
}

/** The one object that the shell's preload puts on the window; it is absent in a browser. */
export interface ShellBridge {
	call(name: CallName, request: unknown): Promise<unknown>;
}

/** What comes back over either wire: a throw would lose everything but its message. */
export const replyEnvelope = z.union([
	z.strictObject({ ok: z.literal(true), value: z.unknown() }),
	z.strictObject({ ok: z.literal(false), code: z.string(), message: z.string() }),
]);
export type ReplyEnvelope = z.output<typeof replyEnvelope>;
