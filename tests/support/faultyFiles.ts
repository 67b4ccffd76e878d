/** The real disk, failing where a test says so. */

import { type FileLayer, nodeFiles } from "../../electron/files/fileLayer.ts";

export type Step = keyof FileLayer;

const systemError = (code: string): Error => Object.assign(new Error(`${code}: injected`), { code });

/**
 * Fails the calls of one kind: with `code`, from the `from`-th to the `to`-th of them (counted from 1). A full disk still
 * takes some of the bytes, so a failing `write` leaves half of them behind.
 */
export function faultyFiles(step: Step, code: string, from = 1, to = Number.POSITIVE_INFINITY): FileLayer {
	let calls = 0;
	const faulty = async (...parameters: unknown[]): Promise<unknown> => {
		const run = nodeFiles[step] as (...parameters: unknown[]) => Promise<unknown>;
		calls++;
		if (calls < from || calls > to) return run(...parameters);
		if (step === "write") {
			const [path, bytes] = parameters as [string, Uint8Array];
			await nodeFiles.write(path, bytes.subarray(0, bytes.length >> 1));
		}
		throw systemError(code);
	};
	return { ...nodeFiles, [step]: faulty } as FileLayer;
}
