/** Where a scan's bytes come from: memory, a file on disk, a dropped file. Random access, so that a 2 GB scan is never held whole. */

/**
 * A file being read. `read` is synchronous because scans are read off the window's thread, where that is the fastest way.
 */
export interface ScanSource {
	/** Bytes in the file. */
	readonly size: number;
	/**
	 * The bytes from `offset` on, `length` of them, fewer only where the file ends.
	 * They are good until the next call: a source may hand out the same buffer each time.
	 */
	read(offset: number, length: number): Uint8Array;
}

/** A source over bytes that are already in memory; nothing is copied. */
export function memorySource(bytes: Uint8Array): ScanSource {
	return { size: bytes.length, read: (offset, length) => bytes.subarray(offset, offset + length) };
}

/** Bytes read at a time: large enough that the call costs nothing, small enough for a slice of a job to stay under 20 ms. */
export const CHUNK_BYTES = 1 << 20;

/** Number of the text line, counted from 1, in which the byte at `offset` stands. LF, CR and CRLF each end a line. */
export function lineOf(source: ScanSource, offset: number): number {
	let line = 1;
	let afterReturn = false;
	for (let at = 0; at < offset; ) {
		const bytes = source.read(at, Math.min(CHUNK_BYTES, offset - at));
		if (bytes.length === 0) break;
		for (let i = 0; i < bytes.length; i++) {
			const c = bytes[i];
			if (c === 13 || (c === 10 && !afterReturn)) line++;
			afterReturn = c === 13;
		}
		at += bytes.length;
	}
	return line;
}
