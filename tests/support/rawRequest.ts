/** HTTP as any program on the machine could send it: every header as given, no rules of a browser. */

import { type IncomingHttpHeaders, request } from "node:http";

export interface RawAnswer {
	readonly status: number;
	readonly headers: IncomingHttpHeaders;
	readonly body: Buffer;
	readonly text: string;
}

export interface RawRequest {
	readonly method?: string;
	readonly path: string;
	readonly headers?: Readonly<Record<string, string>>;
	/** Sent as it is; a generator is sent piece by piece without an announced length. */
	readonly body?: string | Iterable<Uint8Array>;
}

/** Sends to 127.0.0.1; resolves with the answer even where the rest of the body could no longer be sent. */
export function rawRequest(port: number, { method = "GET", path, headers = {}, body }: RawRequest): Promise<RawAnswer> {
	return new Promise((resolve, reject) => {
		const sent = request({ host: "127.0.0.1", port, method, path, headers, setHost: false, agent: false }, (answer) => {
			const parts: Buffer[] = [];
			const finish = (): void => {
				const whole = Buffer.concat(parts);
				resolve({ status: answer.statusCode ?? 0, headers: answer.headers, body: whole, text: whole.toString() });
			};
			answer.on("data", (part: Buffer) => parts.push(part));
			answer.once("end", finish);
			answer.once("error", finish);
		});
		sent.once("error", reject);
		if (body === undefined || typeof body === "string") {
			sent.end(body);
			return;
		}
		const pieces = body[Symbol.iterator]();
		const next = (): void => {
			const piece = pieces.next();
			if (piece.done || sent.destroyed) sent.end();
			else sent.write(piece.value, () => setImmediate(next));
		};
		next();
	});
}
