/** The window's only door to the machine: the desktop shell's bridge where there is one, else the loopback host over HTTP. */

import {
	type CallName,
	calls,
	type Reply,
	type Request,
	replyEnvelope,
	type ShellBridge,
	withoutBytes,
} from "../electron/bridge/contract.ts";

declare global {
	interface Window {
		readonly puntello?: ShellBridge;
	}
}

/** A call that its receiver refused or that could not reach it. */
export class BridgeTrouble extends Error {
	readonly code: string;
	constructor(code: string, message: string) {
		super(message);
		this.name = "BridgeTrouble";
		this.code = code;
	}
}

/** A host that is stuck is like one that has gone; keeping is tried again, and meanwhile the browser holds the work. */
const KEEP_WAIT_MS = 8_000;
/** A page that goes may still send as much as this: browsers allow 64 KB. */
const LAST_WORDS = 60_000;

async function carried(name: CallName, request: Record<string, unknown>, leaving: boolean): Promise<unknown> {
	if (window.puntello) return window.puntello.call(name, request);
	let response: Response;
	try {
		const body = JSON.stringify(withoutBytes(request));
		response = await fetch(`call/${name}`, {
			method: "POST",
			headers: { "content-type": "application/json" },
			body,
			signal: name === "keepCommission" ? AbortSignal.timeout(KEEP_WAIT_MS) : null,
			keepalive: leaving && body.length < LAST_WORDS,
		});
	} catch {
		throw new BridgeTrouble(
			"host.away",
			"The planner's host does not answer. Start it again with npm start; this window goes on by itself.",
		);
	}
	return response.json();
}

/**
 * Asks the shell or the host. Throws BridgeTrouble when it refuses, cannot be reached or answers outside the contract.
 * `leaving`: the page goes now, and the call is to get through all the same.
 */
export async function call<N extends CallName>(name: N, request: Request<N>, leaving = false): Promise<Reply<N>> {
	const envelope = replyEnvelope.safeParse(await carried(name, request, leaving));
	if (!envelope.success) throw new BridgeTrouble("bridge.reply", `The answer to ${name} does not fit the contract.`);
	if (!envelope.data.ok) throw new BridgeTrouble(envelope.data.code, envelope.data.message);
	const reply = calls[name].reply.safeParse(envelope.data.value);
	if (!reply.success) throw new BridgeTrouble("bridge.reply", `The answer to ${name} does not fit the contract.`);
	return reply.data as Reply<N>;
}

/** A browser saves and prints by itself, also when its host has gone. */
const byItself =
	<T>(reply: T) =>
	(trouble: unknown): T => {
		if (trouble instanceof BridgeTrouble && trouble.code === "host.away") return reply;
		throw trouble;
	};

/** Keeps a file where the carver says: by the shell's dialogue, or as a download of the browser. */
export async function saveFile(
	name: string,
	bytes: Uint8Array<ArrayBuffer>,
	type: string,
): Promise<"saved" | "cancelled"> {
	const reply = await call("saveFile", { name, bytes }).catch(byItself("download" as const));
	if (reply !== "download") return reply;
	const address = URL.createObjectURL(new Blob([bytes], { type }));
	const link = document.createElement("a");
	link.href = address;
	link.download = name;
	link.click();
	setTimeout(() => URL.revokeObjectURL(address), 60_000);
	return "saved";
}

/**
 * Prints a PDF: by the shell's print dialogue, or by the browser's. In a browser the PDF is shown in a frame out of sight,
 * because a new tab is refused to a page whose click lies some seconds back.
 */
export async function printPdf(bytes: Uint8Array<ArrayBuffer>): Promise<"printed" | "cancelled" | "opened"> {
	const reply = await call("printPdf", { bytes }).catch(byItself("open" as const));
	if (reply !== "open") return reply;
	const address = URL.createObjectURL(new Blob([bytes], { type: "application/pdf" }));
	const frame = document.createElement("iframe");
	frame.className = "unseen";
	frame.title = "the sheets, to be printed";
	frame.tabIndex = -1;
	frame.src = address;
	document.body.append(frame);
	await new Promise((loaded) => {
		frame.onload = loaded;
	});
	frame.contentWindow?.focus();
	frame.contentWindow?.print();
	// The dialogue may stay open for long, and the frame must outlive it.
	setTimeout(() => {
		frame.remove();
		URL.revokeObjectURL(address);
	}, 600_000);
	return "opened";
}

/** Whether the desktop shell holds the window; a browser opens, saves and prints by itself. */
export const inShell = (): boolean => window.puntello !== undefined;
