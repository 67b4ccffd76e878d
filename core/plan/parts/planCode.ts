/** The short code of scan and commission. */

import type { Commission } from "../commission.ts";

const CODE_LETTERS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ";

/** Six letters from the scan's fingerprint and the commission (FNV-1a, 32 bit; public domain). */
export function planCode(sha256: string, commission: Commission): string {
	// The commission may not know its scan's fingerprint yet; the plan always does.
	const known: Commission = { ...commission, scan: { ...commission.scan, sha256 } };
	let hash = 0x811c9dc5;
	for (const text of [sha256, JSON.stringify(known)])
		for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
	let code = "";
	for (let i = 0; i < 6; i++) {
		code += CODE_LETTERS[hash & 31];
		hash = i === 5 ? hash : hash >>> 5;
	}
	return code;
}
