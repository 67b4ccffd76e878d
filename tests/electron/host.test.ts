import { connect } from "node:net";
import { networkInterfaces } from "node:os";
import { describe, expect, it } from "vitest";
import { openHost } from "../../electron/openHost.ts";
import { commissionText, put, scratchFolder } from "../support/places.ts";
import { rawRequest } from "../support/rawRequest.ts";
import { first, runHost } from "./holders.ts";

/** The loopback host against everything else on the machine that can reach it. Each refusal fails without its guard. */

const hello = { method: "POST", path: "/call/hello", body: "{}" };

describe("letting the window in", () => {
	it("takes the first address once", async () => {
		const host = await runHost();
		const again = await host.send({ path: host.entry, headers: { host: host.authority } });
		expect(again.status).toBe(403);
		expect(again.headers["set-cookie"]).toBeUndefined();
	});

	it("does not take an address that was never given out", async () => {
		const host = await openHost({ home: scratchFolder(), windowFolder: scratchFolder() });
		const { port, host: authority } = new URL(host.url);
		const headers = { host: authority };
		for (const guess of ["A".repeat(43), "A", "null", "undefined"]) {
			const answer = await rawRequest(Number(port), { path: `/enter/${guess}`, headers });
			expect([answer.status, answer.headers["set-cookie"]], guess).toEqual([403, undefined]);
		}
		await host.close();
	});

	it("keeps the session from scripts and from other sites, and gives it a name of its own", async () => {
		const host = await openHost({ home: scratchFolder(), windowFolder: scratchFolder() });
		const { port, host: authority, pathname } = new URL(host.url);
		const answer = await rawRequest(Number(port), { path: pathname, headers: { host: authority } });
		await host.close();
		expect(answer.status).toBe(303);
		expect(answer.headers.location).toBe("/");
		const cookie = String(answer.headers["set-cookie"]);
		expect(cookie).toMatch(new RegExp(`^puntello-${port}=[\\w-]{43};`));
		expect(cookie).toContain("HttpOnly");
		expect(cookie).toContain("SameSite=Strict");
		expect(pathname.length).toBeGreaterThanOrEqual("/enter/".length + 43);
	});

	it("shows nothing to whoever was not let in", async () => {
		const host = await runHost();
		const name = `puntello-${host.port}`;
		for (const cookie of ["", `${name}=`, `${name}=undefined`, `${name}=null`, `${name}=${"A".repeat(43)}`]) {
			const headers = { ...host.inside, cookie };
			for (const path of ["/", "/assets/main-abc123.js", "/nothing"]) {
				const answer = await host.send({ path, headers });
				expect(answer.status, `${path} with ${cookie}`).toBe(403);
			}
			const call = await host.send({ ...hello, headers });
			expect(call.status).toBe(403);
			expect(JSON.parse(call.text)).toMatchObject({ ok: false, code: "bridge.session" });
		}
	});
});

describe("a host started again", () => {
	const start = (home: string) => openHost({ home, windowFolder: scratchFolder() });

	it("listens where the one before did, and lets nobody in by what let in there", async () => {
		const home = scratchFolder();
		const before = await start(home);
		const { host: authority, pathname } = new URL(before.url);
		const entered = await rawRequest(before.port, { path: pathname, headers: { host: authority } });
		const cookie = String(entered.headers["set-cookie"]).split(";")[0];
		await before.close();
		const after = await start(home);
		expect(after.port).toBe(before.port);
		expect((await rawRequest(after.port, { path: pathname, headers: { host: authority } })).status).toBe(403);
		expect((await rawRequest(after.port, { path: "/", headers: { host: authority, cookie } })).status).toBe(403);
		await after.close();
	});

	it("takes another port by chance where that one is taken, or where what was kept is none", async () => {
		const home = scratchFolder();
		const before = await start(home);
		const beside = await start(home);
		expect(beside.port).not.toBe(before.port);
		await Promise.all([before.close(), beside.close()]);
		for (const text of ["", "{", '{"port":80}', '{"port":"x"}']) {
			put(home, { "host.json": text });
			const after = await start(home);
			expect(after.port, text).toBeGreaterThanOrEqual(1024);
			await after.close();
		}
	});
});

describe("foreign requests, cookie and all", () => {
	it("refuses another name for the address, as a rebound name would send it", async () => {
		const host = await runHost();
		for (const name of ["evil.example", `evil.example:${host.port}`, `localhost:${host.port}`, "127.0.0.1", ""]) {
			const answer = await host.send({ path: "/", headers: { ...host.inside, host: name } });
			expect(answer.status, name).toBe(403);
			expect(answer.text).not.toContain("the window");
		}
	});

	it("does not let the first address in under another name", async () => {
		const host = await openHost({ home: scratchFolder(), windowFolder: scratchFolder() });
		const { port, pathname } = new URL(host.url);
		const answer = await rawRequest(Number(port), { path: pathname, headers: { host: `evil.example:${port}` } });
		await host.close();
		expect([answer.status, answer.headers["set-cookie"]]).toEqual([403, undefined]);
	});

	it("refuses another origin, another port of the machine included", async () => {
		const host = await runHost();
		for (const origin of [
			"https://evil.example",
			"null",
			`http://127.0.0.1:${host.port + 1}`,
			`http://localhost:${host.port}`,
		]) {
			const headers = { ...host.inside, origin };
			expect((await host.send({ ...hello, headers })).status, origin).toBe(403);
			expect((await host.send({ path: "/", headers })).status, origin).toBe(403);
		}
	});

	it("refuses a call that does not name its origin", async () => {
		const host = await runHost();
		const { origin: _, ...headers } = host.inside;
		expect((await host.send({ ...hello, headers })).status).toBe(403);
	});

	it("refuses reads that a page of another site caused", async () => {
		const host = await runHost();
		const { origin: _, ...inside } = host.inside;
		for (const site of ["cross-site", "same-site"]) {
			const answer = await host.send({ path: "/", headers: { ...inside, "sec-fetch-site": site } });
			expect(answer.status, site).toBe(403);
		}
		for (const site of ["same-origin", "none"]) {
			const answer = await host.send({ path: "/", headers: { ...inside, "sec-fetch-site": site } });
			expect(answer.status, site).toBe(200);
		}
	});

	it("refuses what a form on a web page can post", async () => {
		const host = await runHost();
		for (const type of ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data"]) {
			const answer = await host.send({ ...hello, headers: { ...host.inside, "content-type": type } });
			expect(answer.status, type).toBe(415);
		}
	});

	it("answers a call to a post alone", async () => {
		const host = await runHost();
		expect((await host.send({ path: "/call/hello", headers: host.inside })).status).toBe(405);
	});

	it("does not change to another protocol", async () => {
		const host = await runHost();
		const headers = { ...host.inside, connection: "Upgrade", upgrade: "websocket" };
		await expect(host.send({ path: "/", headers })).rejects.toThrow(/hang up|reset/);
	});

	it("listens on the loopback address alone", async () => {
		const host = await runHost();
		const outside = Object.values(networkInterfaces())
			.flat()
			.filter((face) => face && !face.internal && face.family === "IPv4")
			.map((face) => face?.address as string);
		// 127.0.0.2 is this machine too, and answers whoever listens on every address.
		const others = process.platform === "linux" ? [...outside, "127.0.0.2"] : outside;
		for (const address of others) {
			const reached = await new Promise<boolean>((resolve) => {
				const socket = connect({ port: host.port, host: address, timeout: 2000 });
				const end = (answer: boolean) => {
					socket.destroy();
					resolve(answer);
				};
				socket.once("connect", () => end(true));
				socket.once("error", () => end(false));
				socket.once("timeout", () => end(false));
			});
			expect(reached, address).toBe(false);
		}
	});
});

describe("what it takes in", () => {
	it("refuses a body of 1 GB by its announced length, without reading it", async () => {
		const host = await runHost();
		const headers = { ...host.inside, "content-length": "1000000000" };
		let sent = 0;
		function* flood() {
			for (; sent < 1_000_000_000; sent += 65_536) yield new Uint8Array(65_536);
		}
		const path = "/call/keepCommission";
		const answer = await host.send({ method: "POST", path, headers, body: flood() });
		expect(answer.status).toBe(413);
		// Far less than what a commission may bring, so it was the announced length that told.
		expect(sent).toBeLessThan(24 * 1024 * 1024);
	});

	it("refuses a body that grows without an announced length, and holds no more of it than the limit", async () => {
		const host = await runHost();
		for (const [path, limit] of [
			["/call/hello", 64 * 1024],
			["/call/keepCommission", 48 * 1024 * 1024],
		] as const) {
			let sent = 0;
			function* flood() {
				for (; sent < 1_000_000_000; sent += 1 << 20) yield new Uint8Array(1 << 20);
			}
			const before = process.memoryUsage().arrayBuffers;
			const answer = await host.send({ method: "POST", path, headers: host.inside, body: flood() });
			expect(answer.status, path).toBe(413);
			expect(sent).toBeLessThan(limit + 400_000_000);
			expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(limit + 200_000_000);
		}
	});

	it("takes the largest commission that the contract allows", async () => {
		const host = await runHost();
		const text = commissionText("x".repeat(120)) + " ".repeat(19_000_000);
		expect(
			await host.call("keepCommission", { id: "0123456789abcdef", text, scanToken: null, ...first }),
		).toMatchObject({
			ok: true,
		});
	});

	it("refuses headers without end", async () => {
		const host = await runHost();
		const answer = await host.send({ path: "/", headers: { ...host.inside, filler: "x".repeat(64_000) } });
		expect(answer.status).toBe(431);
	});

	it("says so when a call is not JSON", async () => {
		const host = await runHost();
		for (const body of ["", "{", "\u0000", "[1", "hello"]) {
			const answer = await host.send({ ...hello, headers: host.inside, body });
			expect(answer.status).toBe(400);
			expect(JSON.parse(answer.text)).toMatchObject({ ok: false, code: "bridge.badRequest" });
		}
	});
});
