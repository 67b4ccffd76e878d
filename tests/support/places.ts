/** Folders that a test may fill, gone when it is over. */

import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { onTestFinished } from "vitest";
import { newCommission } from "../../core/plan/commission.ts";

export function scratchFolder(): string {
	const folder = mkdtempSync(join(tmpdir(), "puntello-test-"));
	onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
	return folder;
}

/** Writes the files, given by their path under the folder. */
export function put(folder: string, files: Readonly<Record<string, string | Uint8Array>>): void {
	for (const [name, content] of Object.entries(files)) {
		mkdirSync(dirname(join(folder, name)), { recursive: true });
		writeFileSync(join(folder, name), content);
	}
}

/** A folder like that of the built program, with a page that names itself, and a secret beside what is served. */
export function builtProgram(): string {
	const program = scratchFolder();
	put(program, {
		"dist/window/index.html": "<!doctype html><title>the window</title>",
		"dist/window/assets/main-abc123.js": "export const page = 1;",
		"dist/secret.txt": "SECRET",
		"secret.txt": "SECRET",
	});
	return program;
}

export const commissionText = (name = "a test", file = "owl.stl"): string =>
	JSON.stringify({ ...newCommission(file), name });
