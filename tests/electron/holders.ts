/** Both holders of the window behind one face, so that one suite holds them to the same contract. */

import { join } from "node:path";
import { onTestFinished, vi } from "vitest";
import { withoutBytes } from "../../electron/bridge/contract.ts";
import { openHost } from "../../electron/openHost.ts";
import { createElectronStandIn, type ElectronStandIn } from "../support/electronStandIn.ts";
import { builtProgram, scratchFolder } from "../support/places.ts";
import { type RawAnswer, type RawRequest, rawRequest } from "../support/rawRequest.ts";

/** The first window that keeps a commission. */
export const first = { writer: "0".repeat(16), seen: [] as string[] };

export interface HolderUnderTest {
	/** A call as the window makes it; the envelope as it arrives there. */
	call(name: string, request: Record<string, unknown>): Promise<unknown>;
	/** A read as the window makes it, at a path of its own origin. */
	read(
		path: string,
		headers?: Record<string, string>,
		method?: string,
	): Promise<{ status: number; headers: Headers; body: Buffer }>;
}

/** A busy machine takes its time. */
const BUSY = { timeout: 20_000 };

export interface HolderWish {
	readonly argument?: string;
	readonly home?: string;
	readonly program?: string;
}

export interface RunningHost extends HolderUnderTest {
	readonly port: number;
	readonly authority: string;
	/** Headers of the window that was let in. */
	readonly inside: Readonly<Record<string, string>>;
	readonly entry: string;
	send(request: RawRequest): Promise<RawAnswer>;
}

/** The loopback host, with its window already let in. */
export async function runHost({
	argument,
	home = scratchFolder(),
	program = builtProgram(),
}: HolderWish = {}): Promise<RunningHost> {
	const host = await openHost({ argument, home, windowFolder: join(program, "dist", "window") });
	onTestFinished(() => host.close());
	const { port, host: authority, pathname: entry } = new URL(host.url);
	const send = (request: RawRequest) => rawRequest(Number(port), request);
	const entered = await send({ path: entry, headers: { host: authority } });
	const cookie = String(entered.headers["set-cookie"]).split(";")[0];
	const inside = { host: authority, cookie, origin: host.origin, "content-type": "application/json" };
	return {
		port: Number(port),
		authority,
		entry,
		inside,
		send,
		async call(name, request) {
			const body = JSON.stringify(withoutBytes(request));
			const answer = await send({ method: "POST", path: `/call/${name}`, headers: inside, body });
			return JSON.parse(answer.text);
		},
		async read(path, headers = {}, method = "GET") {
			const answer = await send({ method, path, headers: { ...inside, ...headers } });
			return {
				status: answer.status,
				headers: new Headers(answer.headers as Record<string, string>),
				body: answer.body,
			};
		},
	};
}

export interface RunningShell extends HolderUnderTest {
	readonly electron: ElectronStandIn;
	readonly home: string;
}

/** The shell's own program over the stand-in, as far as its first window. */
export async function runShell(wish: HolderWish & { first?: boolean } = {}): Promise<RunningShell> {
	const home = wish.home ?? scratchFolder();
	const electron = createElectronStandIn({
		appPath: wish.program ?? builtProgram(),
		documents: scratchFolder(),
		first: wish.first,
	});
	const argv = process.argv;
	onTestFinished(() => {
		process.argv = argv;
		vi.unstubAllEnvs();
		vi.doUnmock("electron");
	});
	process.argv = ["puntello", ...(wish.argument === undefined ? [] : [wish.argument])];
	vi.stubEnv("PUNTELLO_HOME", home);
	vi.resetModules();
	vi.doMock("electron", () => electron.module);
	await import("../../electron/shell/main.ts");
	if (wish.first !== false) {
		await vi.waitFor(() => {
			if (!electron.windows[0]?.loaded.length) throw new Error("no window yet");
		}, BUSY);
		await import("../../electron/shell/preload.ts");
	}
	const bridge = electron.exposed.puntello as { call(name: string, request: unknown): Promise<unknown> };
	return {
		electron,
		home,
		call: (name, request) => bridge.call(name, request),
		async read(path, headers = {}, method = "GET") {
			const serve = electron.defaultSession.handlers.get("puntello");
			if (!serve) throw new Error("the scheme is not served");
			const request = { url: `puntello://window${path}`, method, headers: new Headers(headers) };
			const answer = await serve(request as Request);
			return { status: answer.status, headers: answer.headers, body: Buffer.from(await answer.arrayBuffer()) };
		},
	};
}
