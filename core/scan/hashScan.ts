/** SHA-256 of a scan file, by which a commission knows its scan again. */

import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex } from "@noble/hashes/utils.js";
import type { Job } from "../job.ts";
import { CHUNK_BYTES, type ScanSource } from "./source.ts";

/** The SHA-256 of all bytes of the source, 64 hexadecimal digits in lower case. */
export function* hashScan(source: ScanSource): Job<string> {
	const sum = sha256.create();
	for (let at = 0; at < source.size; ) {
		const bytes = source.read(at, Math.min(CHUNK_BYTES, source.size - at));
		if (bytes.length === 0) break;
		sum.update(bytes);
		at += bytes.length;
		yield { stage: "taking the scan's fingerprint", share: at / source.size };
	}
	return bytesToHex(sum.digest());
}
