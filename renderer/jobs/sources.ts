/** Where the worker reads a scan's bytes: a file that was dropped or chosen, or one that shell or host granted. */

import { Refusal } from "../../core/refusal.ts";
import type { ScanSource } from "../../core/scan/source.ts";

/** A worker's own reader; the window's library of types does not know it. */
declare const FileReaderSync: new () => { readAsArrayBuffer(blob: Blob): ArrayBuffer };

/** How a scan travels to the worker: never its bytes. */
export type ScanHandle =
	| { readonly kind: "file"; readonly file: File }
	| { readonly kind: "grant"; readonly token: string; readonly name: string; readonly size: number };

export const handleName = (handle: ScanHandle): string => (handle.kind === "file" ? handle.file.name : handle.name);

/** Synchronous reads, which only a worker has. */
export function scanSource(handle: ScanHandle): ScanSource {
	return handle.kind === "file" ? fileSource(handle.file) : grantSource(handle);
}

function fileSource(file: File): ScanSource {
	const reader = new FileReaderSync();
	return {
		size: file.size,
		read(offset, length) {
			try {
				return new Uint8Array(reader.readAsArrayBuffer(file.slice(offset, offset + length)));
			} catch {
				throw new Refusal("files.failed", { path: file.name, doing: "read", reason: "it has been moved or changed" });
			}
		},
	};
}

/** Bytes fetched at a time: a granted scan comes over HTTP or the shell's scheme, where each call costs a round trip. */
const FETCH_BYTES = 8 << 20;

function grantSource(grant: { token: string; name: string; size: number }): ScanSource {
	let heldFrom = 0;
	let held = new Uint8Array(0);
	const failed = (reason: string): Refusal => new Refusal("files.failed", { path: grant.name, doing: "read", reason });
	const fetchRange = (offset: number, length: number): Uint8Array<ArrayBuffer> => {
		const request = new XMLHttpRequest();
		request.open("GET", new URL(`/scan/${grant.token}`, self.location.href), false);
		request.responseType = "arraybuffer";
		request.setRequestHeader("Range", `bytes=${offset}-${offset + length - 1}`);
		try {
			request.send();
		} catch {
			throw failed("its holder does not answer");
		}
		if (request.status !== 206 && request.status !== 200) throw failed(`it answered ${request.status}`);
		const bytes = new Uint8Array(request.response as ArrayBuffer);
		return request.status === 200 ? bytes.subarray(offset, offset + length) : bytes;
	};
	return {
		size: grant.size,
		read(offset, length) {
			const until = Math.min(offset + length, grant.size);
			if (until <= offset) return held.subarray(0, 0);
			if (offset < heldFrom || until > heldFrom + held.length) {
				heldFrom = offset;
				held = fetchRange(offset, Math.min(Math.max(length, FETCH_BYTES), grant.size - offset));
			}
			return held.subarray(offset - heldFrom, until - heldFrom);
		},
	};
}

/** The bytes of one of the window's own files, for example a font. */
export function ownFile(address: string): Uint8Array {
	const request = new XMLHttpRequest();
	request.open("GET", address, false);
	request.responseType = "arraybuffer";
	request.send();
	if (request.status !== 200) throw new Error(`${address} answered ${request.status}`);
	return new Uint8Array(request.response as ArrayBuffer);
}
