/** The real desktop shell, where its binary is on the machine; elsewhere its code runs against a stand-in only. */

import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { _electron, expect, test } from "@playwright/test";
import { PROJECT } from "../../electron/build.ts";
import { hasDisplay } from "../../electron/findBrowser.ts";
import { installedShell } from "../../electron/findShell.ts";

test("the real shell opens its window, locked, on the owl", async () => {
	const binary = installedShell();
	if (binary === null || !hasDisplay()) {
		const why = binary === null ? "its binary is not on this machine" : "there is no display";
		console.log(`NOT RUN: the real desktop shell, because ${why}.`);
		test.info().annotations.push({ type: "not run", description: `the real desktop shell: ${why}` });
		return;
	}
	const home = mkdtempSync(join(tmpdir(), "puntello-shell-"));
	const asRoot = process.getuid?.() === 0;
	const shell = await _electron.launch({
		executablePath: binary,
		args: [...(asRoot ? ["--no-sandbox"] : []), PROJECT, "owl"],
		env: { ...process.env, PUNTELLO_HOME: home } as Record<string, string>,
	});
	try {
		const page = await shell.firstWindow();
		await page.waitForLoadState("load");
		expect(page.url()).toBe("puntello://window/");
		// One object, one method, and no way to Node.
		expect(await page.evaluate("Object.keys(window.puntello)")).toEqual(["call"]);
		expect(await page.evaluate("typeof process + typeof require + typeof module")).toBe("undefined".repeat(3));
		const hello = await page.evaluate('window.puntello.call("hello", {})');
		expect(hello).toMatchObject({ ok: true, value: { holder: "shell", open: { kind: "demo", name: "owl" } } });
		const stranger = await page.evaluate('window.puntello.call("hello", { more: 1 })');
		expect(stranger).toMatchObject({ ok: false, code: "bridge.badRequest" });
		expect(await page.evaluate('fetch("https://example.org/").then(() => "out", () => "kept in")')).toBe("kept in");
		expect(await page.evaluate('String(window.open("https://example.org/"))')).toBe("null");
	} finally {
		await shell.close();
		rmSync(home, { recursive: true, force: true });
	}
});
