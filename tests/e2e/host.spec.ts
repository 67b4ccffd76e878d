/** The loopback host under a real browser: what its policy forbids is forbidden there, and its address lets one browser in. */

import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { openHost } from "../../electron/openHost.ts";
import { expect, test } from "../support/window.ts";

test("the window runs under its policy, and the page can do no more than that allows", async ({ page, home }) => {
	const host = await openHost({ home });
	try {
		await page.goto(host.url);
		await expect(page).toHaveURL(`${host.origin}/`);
		await expect(page.locator("#window > *").first()).toBeVisible();
		const outcome = await page.evaluate(async () => {
			const tried = async (deed: () => unknown): Promise<string> => {
				try {
					await deed();
					return "done";
				} catch (error) {
					return error instanceof Error ? error.name : String(error);
				}
			};
			// In a turn of its own: within this one the browser's remote control lifts that part of the policy.
			const evaluated = new Promise((resolve) => {
				setTimeout(() => resolve(tried(() => new Function("return 1")())), 0);
			});
			const inline = document.createElement("script");
			inline.textContent = "document.title = 'taken over'";
			document.body.append(inline);
			return {
				cookie: document.cookie,
				title: document.title,
				fetched: await tried(() => fetch("https://example.org/")),
				evaluated: await evaluated,
				node: typeof (globalThis as { process?: unknown }).process,
			};
		});
		expect(outcome).toEqual({
			// The session is the browser's secret, not the page's.
			cookie: "",
			title: "Puntello",
			fetched: "TypeError",
			evaluated: "EvalError",
			node: "undefined",
		});
	} finally {
		await host.close();
	}
});

test("the address lets in one browser, once", async ({ browser, home }) => {
	const host = await openHost({ home });
	const [first, second] = [await browser.newPage(), await browser.newPage()];
	try {
		await first.goto(host.url);
		await expect(first.locator("#window > *").first()).toBeVisible();
		expect((await second.goto(host.url))?.status()).toBe(403);
		expect((await second.goto(`${host.origin}/`))?.status()).toBe(403);
		// Loading it anew needs no new address.
		expect((await first.reload())?.status()).toBe(200);
	} finally {
		for (const page of [first, second]) await page.context().close();
		await host.close();
	}
});

test("a page of another port of this machine gets nothing, not even without reading it", async ({ page, home }) => {
	const host = await openHost({ home });
	const stranger = createServer((_request, response) => {
		response.setHeader("Content-Type", "text/html");
		response.end("<!doctype html><title>stranger</title>");
	});
	await new Promise<void>((resolve) => stranger.listen(0, "127.0.0.1", resolve));
	try {
		await page.goto(host.url);
		await page.goto(`http://127.0.0.1:${(stranger.address() as AddressInfo).port}/`);
		const replies = await page.evaluate(async (origin) => {
			const get = (path: string, more: RequestInit) =>
				fetch(origin + path, { mode: "no-cors", credentials: "include", ...more }).then(
					({ type, status }) => `${type} ${status}`,
					() => "refused",
				);
			return [await get("/", {}), await get("/call/hello", { method: "POST", body: "{}" })];
		}, host.origin);
		expect(replies).toEqual(["refused", "refused"]);
	} finally {
		stranger.closeAllConnections();
		stranger.close();
		await host.close();
	}
});
