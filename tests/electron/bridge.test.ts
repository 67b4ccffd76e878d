import { createHash } from "node:crypto";
import { mkdirSync, readFileSync, renameSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { type CallName, calls, replyEnvelope } from "../../electron/bridge/contract.ts";
import { createCommissions } from "../../electron/files/commissions.ts";
import { nodeFiles } from "../../electron/files/fileLayer.ts";
import { firstArgument } from "../../electron/opening.ts";
import { commissionText, put, scratchFolder } from "../support/places.ts";
import { first, type HolderUnderTest, type HolderWish, runHost, runShell } from "./holders.ts";

/** The contract of the bridge, asked of both holders: what one answers the other answers too. */

const ID = "0123456789abcdef";
const withStoneScan = (text: string, file: string, sha256: string): string => {
	const commission = JSON.parse(text);
	return JSON.stringify({ ...commission, stone: { ...commission.stone, given: "scan", scan: { file, sha256 } } });
};
const bytes = Uint8Array.from({ length: 300_000 }, (_, i) => (i * 7 + (i >> 8)) & 255);

type Start = (wish?: HolderWish) => Promise<HolderUnderTest>;
const holders: [string, Start][] = [
	["shell", runShell],
	["host", runHost],
];

async function value(answer: Promise<unknown>): Promise<Record<string, unknown>> {
	const envelope = replyEnvelope.parse(await answer);
	if (!envelope.ok) throw new Error(`${envelope.code}: ${envelope.message}`);
	return envelope.value as Record<string, unknown>;
}
const code = async (answer: Promise<unknown>): Promise<string> => {
	const envelope = replyEnvelope.parse(await answer);
	return envelope.ok ? "answered" : envelope.code;
};

describe.each(holders)("the %s", (kind, start) => {
	it("says who it is and what to open", async () => {
		const holder = await start({ argument: "owl" });
		const hello = calls.hello.reply.parse(await value(holder.call("hello", {})));
		expect(hello).toMatchObject({ holder: kind, open: { kind: "demo", name: "owl" }, recents: [] });
	});

	it("begins with a demo, and once something is kept on the first screen, where that comes first", async () => {
		const home = scratchFolder();
		const begin = async () => {
			const argument = await firstArgument(createCommissions(nodeFiles, home));
			return start({ home, argument });
		};
		const fresh = await begin();
		expect(await value(fresh.call("hello", {}))).toMatchObject({ open: { kind: "demo", name: "owl" } });
		await value(fresh.call("keepCommission", { id: ID, text: commissionText("dragon"), scanToken: null, ...first }));
		const again = await begin();
		expect(await value(again.call("hello", {}))).toMatchObject({
			open: { kind: "nothing" },
			recents: [{ id: ID, name: "dragon" }],
		});
	});

	it("opens on the first screen when nothing is named", async () => {
		const holder = await start();
		expect(await value(holder.call("hello", {}))).toMatchObject({ open: { kind: "nothing" } });
	});

	it("grants the scan that it was started on, by a token and never by a path", async () => {
		const folder = scratchFolder();
		put(folder, { "lion.stl": bytes });
		const holder = await start({ argument: join(folder, "lion.stl") });
		const { open } = calls.hello.reply.parse(await value(holder.call("hello", {})));
		if (open.kind !== "scan") throw new Error(`opened ${open.kind}`);
		expect(open.grant).toMatchObject({ name: "lion.stl", size: bytes.length });
		expect(JSON.stringify(open)).not.toContain(folder);
		const answer = await holder.read(`/scan/${open.grant.token}`);
		expect(answer.status).toBe(200);
		expect(answer.body.equals(bytes)).toBe(true);
	});

	it("opens a commission with the scan that lies beside it, and no other", async () => {
		const folder = scratchFolder();
		put(folder, {
			"job/a.commission.json": commissionText("a", "lion.stl"),
			"job/lion.stl": bytes,
			"job/b.commission.json": commissionText("b", "../secret.stl"),
			"secret.stl": "SECRET",
		});
		const first = calls.hello.reply.parse(
			await value((await start({ argument: join(folder, "job", "a.commission.json") })).call("hello", {})),
		);
		expect(first.open).toMatchObject({ kind: "commission", grant: { name: "lion.stl", size: bytes.length } });
		const second = calls.hello.reply.parse(
			await value((await start({ argument: join(folder, "job", "b.commission.json") })).call("hello", {})),
		);
		expect(second.open).toMatchObject({ kind: "commission", grant: null });
	});

	it("keeps a commission, lists it and gives it back with its scan", async () => {
		const folder = scratchFolder();
		put(folder, { "owl.stl": bytes });
		const holder = await start({ argument: join(folder, "owl.stl") });
		const { open } = calls.hello.reply.parse(await value(holder.call("hello", {})));
		const scanToken = open.kind === "scan" ? open.grant.token : null;
		const text = commissionText("owl for the gate");
		const { changed } = await value(holder.call("keepCommission", { id: ID, text, scanToken, ...first }));
		const recalled = calls.recallCommission.reply.parse(await value(holder.call("recallCommission", { id: ID })));
		expect(recalled.text).toBe(text);
		expect(recalled.grant).toMatchObject({ name: "owl.stl", size: bytes.length });
		expect((await holder.read(`/scan/${recalled.grant?.token}`)).body.equals(bytes)).toBe(true);
		expect(await value(holder.call("hello", {}))).toMatchObject({
			recents: [{ id: ID, name: "owl for the gate", scan: "owl.stl", changed }],
		});
	});

	it("keeps where the stone's own scan lies, and gives leave to read it again", async () => {
		const folder = scratchFolder();
		const stoneBytes = bytes.subarray(0, 5000);
		const sha256 = createHash("sha256").update(stoneBytes).digest("hex");
		const text = withStoneScan(commissionText("owl", "owl.stl"), "boulder.ply", sha256);
		put(folder, { "owl.stl": bytes, "boulder.ply": stoneBytes, "owl.commission.json": text });
		const holder = await start({ argument: join(folder, "owl.commission.json") });
		const { open } = calls.hello.reply.parse(await value(holder.call("hello", {})));
		if (open.kind !== "commission") throw new Error("not opened as a commission");
		expect(open).toMatchObject({ grant: { name: "owl.stl" }, stoneGrant: { name: "boulder.ply", size: 5000 } });
		const tokens = { scanToken: open.grant?.token ?? null, stoneToken: open.stoneGrant?.token ?? null };
		const seen = [createHash("sha256").update(text).digest("hex")];
		await value(holder.call("keepCommission", { id: ID, text, ...tokens, ...first }));
		const recall = async () =>
			calls.recallCommission.reply.parse(await value(holder.call("recallCommission", { id: ID })));
		const { stoneGrant } = await recall();
		expect(stoneGrant).toMatchObject({ name: "boulder.ply", size: 5000 });
		expect((await holder.read(`/scan/${stoneGrant?.token}`)).body.equals(stoneBytes)).toBe(true);

		// Kept again without a token, and moved meanwhile: found by its fingerprint.
		mkdirSync(join(folder, "yard"));
		renameSync(join(folder, "boulder.ply"), join(folder, "yard", "stone 7.ply"));
		await value(holder.call("keepCommission", { id: ID, text, scanToken: null, ...first, seen }));
		expect((await recall()).stoneGrant).toMatchObject({ name: "stone 7.ply" });

		// Another stone under the same name is not the old one.
		const other = withStoneScan(commissionText("owl", "owl.stl"), "boulder.ply", "0".repeat(64));
		await value(holder.call("keepCommission", { id: ID, text: other, scanToken: null, ...first, seen }));
		expect(await recall()).toMatchObject({ grant: { name: "owl.stl" }, stoneGrant: null });
	});

	it("still gives a commission back when its scan has gone", async () => {
		const folder = scratchFolder();
		put(folder, { "owl.stl": bytes });
		const holder = await start({ argument: join(folder, "owl.stl") });
		const { open } = calls.hello.reply.parse(await value(holder.call("hello", {})));
		const scanToken = open.kind === "scan" ? open.grant.token : null;
		await value(holder.call("keepCommission", { id: ID, text: commissionText(), scanToken, ...first }));
		mkdirSync(join(folder, "moved"));
		renameSync(join(folder, "owl.stl"), join(folder, "moved", "owl.stl"));
		expect(await value(holder.call("recallCommission", { id: ID }))).toMatchObject({ grant: null });
		expect((await holder.read(`/scan/${scanToken}`)).status).toBe(410);
	});

	it("refuses as data what cannot be used", async () => {
		const holder = await start();
		expect(await code(holder.call("recallCommission", { id: ID }))).toBe("files.noCommission");
		const text = '{"format": "something else"}';
		expect(await code(holder.call("keepCommission", { id: ID, text, scanToken: null, ...first }))).toBe(
			"files.notACommission",
		);
	});

	it("refuses a call that is not in the contract", async () => {
		const holder = await start();
		expect(await code(holder.call("readFile", { path: "/etc/passwd" }))).toBe("bridge.unknownCall");
		// Names that every object has.
		expect(await code(holder.call("constructor", {}))).toBe("bridge.unknownCall");
		expect(await code(holder.call("toString", {}))).toBe("bridge.unknownCall");
	});

	it("refuses a key more in any call, where the call without it is answered", async () => {
		const holder = await start();
		const good: { readonly [N in CallName]: Record<string, unknown> } = {
			hello: {},
			chooseFile: {},
			keepCommission: { id: ID, text: commissionText(), scanToken: null, ...first },
			recallCommission: { id: ID },
			keepLook: { theme: "slate", bookFolded: false, tapeFolded: true, hintsRead: ["tape"] },
			keepAwake: { on: true },
			saveFile: { name: "sheets.pdf", bytes: new Uint8Array(1) },
			printPdf: { bytes: new Uint8Array(1) },
		};
		for (const [name, request] of Object.entries(good)) {
			expect(await code(holder.call(name, { ...request, more: 1 })), name).toBe("bridge.badRequest");
			expect(await code(holder.call(name, request)), name).toBe("answered");
		}
	});

	it("refuses a key that is not in the contract, and a value of another kind", async () => {
		const holder = await start();
		expect(await code(holder.call("hello", { more: 1 }))).toBe("bridge.badRequest");
		expect(await code(holder.call("recallCommission", { id: "../../etc/passwd" }))).toBe("bridge.badRequest");
		expect(await code(holder.call("keepCommission", { id: ID, text: 7, scanToken: null, ...first }))).toBe(
			"bridge.badRequest",
		);
		expect(await code(holder.call("saveFile", { name: "../up.pdf", bytes: new Uint8Array(1) }))).toBe(
			"bridge.badRequest",
		);
	});

	it("serves the built page under the strict policy, and nothing beside it", async () => {
		const holder = await start();
		const page = await holder.read("/");
		expect(page.status).toBe(200);
		expect(page.body.toString()).toContain("the window");
		expect((await holder.read("/assets/main-abc123.js")).headers.get("content-type")).toContain("text/javascript");
		const refused: [string, number][] = [
			["/../secret.txt", 400],
			["/../../secret.txt", 400],
			["/%2e%2e/secret.txt", 400],
			["/..%2fsecret.txt", 400],
			["/%2e%2e%2fsecret.txt", 400],
			["/assets/../../secret.txt", 400],
			["/assets/..%5c..%5csecret.txt", 400],
			["/assets\\..\\..\\secret.txt", 400],
			["/scan/..%2f..%2fsecret.txt", 400],
			["/.", 400],
			["/%00", 400],
			["/%", 400],
			["/%252e%252e/secret.txt", 404],
			["//secret.txt", 404],
			["/assets", 404],
			["/assets/", 404],
			["/scan/", 404],
			[`/scan/${"0".repeat(32)}`, 404],
		];
		for (const [path, status] of refused) {
			const answer = await holder.read(path);
			expect(answer.status, path).toBe(status);
			expect(answer.body.toString(), path).not.toContain("SECRET");
			expect(answer.body.toString(), path).not.toContain("main-abc123");
		}
	});

	it("puts the same strict headers on every answer, refusals too", async () => {
		const holder = await start();
		for (const path of ["/", "/assets/main-abc123.js", "/nothing", "/%", "/scan/0"]) {
			const { headers } = await holder.read(path);
			const policy = headers.get("content-security-policy") ?? "";
			expect(policy, path).toContain("default-src 'none'");
			expect(policy, path).toContain("frame-ancestors 'none'");
			expect(policy, path).not.toMatch(/unsafe|https?:|\*/);
			expect(headers.get("x-content-type-options"), path).toBe("nosniff");
			expect(headers.get("cross-origin-opener-policy"), path).toBe("same-origin");
			expect(headers.get("cross-origin-resource-policy"), path).toBe("same-origin");
			expect(headers.get("referrer-policy"), path).toBe("no-referrer");
		}
	});

	it("only reads at its paths", async () => {
		const holder = await start();
		expect((await holder.read("/", {}, "PUT")).status).toBe(405);
		expect((await holder.read("/", {}, "DELETE")).status).toBe(405);
		const head = await holder.read("/", {}, "HEAD");
		expect([head.status, head.body.length]).toEqual([200, 0]);
	});

	it.each([
		["bytes=0-0", 206, 0, 1],
		["bytes=10-19", 206, 10, 20],
		["bytes=299990-", 206, 299_990, 300_000],
		["bytes=299990-999999", 206, 299_990, 300_000],
		["bytes=-5", 206, 299_995, 300_000],
		["bytes=-999999", 206, 0, 300_000],
		["bytes=19-10", 200, 0, 300_000],
		["bytes=0-1,5-6", 200, 0, 300_000],
		["lines=1-2", 200, 0, 300_000],
	])("gives the range %s of a scan", async (range, status, from, to) => {
		const folder = scratchFolder();
		put(folder, { "lion.stl": bytes });
		const holder = await start({ argument: join(folder, "lion.stl") });
		const { open } = calls.hello.reply.parse(await value(holder.call("hello", {})));
		const path = open.kind === "scan" ? `/scan/${open.grant.token}` : "";
		const answer = await holder.read(path, { range });
		expect(answer.status).toBe(status);
		expect(answer.headers.get("content-length")).toBe(String(to - from));
		expect(answer.headers.get("content-range")).toBe(status === 206 ? `bytes ${from}-${to - 1}/300000` : null);
		expect(answer.body.equals(bytes.subarray(from, to))).toBe(true);
	});

	it("says so when a range lies past the end", async () => {
		const folder = scratchFolder();
		put(folder, { "lion.stl": bytes });
		const holder = await start({ argument: join(folder, "lion.stl") });
		const { open } = calls.hello.reply.parse(await value(holder.call("hello", {})));
		const path = open.kind === "scan" ? `/scan/${open.grant.token}` : "";
		for (const range of ["bytes=300000-", "bytes=-0"]) {
			const answer = await holder.read(path, { range });
			expect([answer.status, answer.headers.get("content-range")]).toEqual([416, "bytes */300000"]);
		}
	});
});

describe("where the holders differ on purpose", () => {
	it("the host leaves choosing, saving and printing to the browser", async () => {
		const host = await runHost();
		expect(await value(host.call("chooseFile", {}))).toBeNull();
		expect(await value(host.call("saveFile", { name: "sheets.pdf", bytes }))).toBe("download");
		expect(await value(host.call("printPdf", { bytes }))).toBe("open");
	});

	it("the host refuses the bytes that are to stay in the browser", async () => {
		const host = await runHost();
		const send = async (path: string, body: unknown) =>
			JSON.parse((await host.send({ method: "POST", path, headers: host.inside, body: JSON.stringify(body) })).text);
		expect(await send("/call/printPdf", { bytes: [1, 2, 3] })).toMatchObject({ ok: false, code: "bridge.badRequest" });
	});

	it("the shell asks by the system's dialogues", async () => {
		const { call, electron } = await runShell();
		const folder = scratchFolder();
		put(folder, { "lion.stl": bytes });
		expect(await value(call("chooseFile", {}))).toBeNull();
		electron.answers.open = { canceled: false, filePaths: [join(folder, "lion.stl")] };
		expect(await value(call("chooseFile", {}))).toMatchObject({
			kind: "scan",
			grant: { name: "lion.stl", size: bytes.length },
		});
		put(folder, { "lion.commission.json": commissionText("lion", "lion.stl") });
		electron.answers.open = { canceled: false, filePaths: [join(folder, "lion.commission.json")] };
		expect(await value(call("chooseFile", {}))).toMatchObject({ kind: "commission", grant: { name: "lion.stl" } });
		expect(await value(call("chooseFile", { what: "stone" }))).toMatchObject({
			kind: "stone",
			name: "lion.commission.json",
			text: commissionText("lion", "lion.stl"),
		});
		electron.answers.open = { canceled: false, filePaths: [join(folder, "lion.stl")] };
		expect(await value(call("chooseFile", { what: "stone" }))).toMatchObject({
			kind: "scan",
			grant: { name: "lion.stl" },
		});
		expect(await value(call("saveFile", { name: "sheets.pdf", bytes }))).toBe("cancelled");
		electron.answers.save = { canceled: false, filePath: join(folder, "sheets.pdf") };
		expect(await value(call("saveFile", { name: "sheets.pdf", bytes }))).toBe("saved");
		expect(readFileSync(join(folder, "sheets.pdf")).equals(bytes)).toBe(true);
	});
});
