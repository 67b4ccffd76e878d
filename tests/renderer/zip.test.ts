import { inflateRawSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../core/random.ts";
import { crc32, zipped } from "../../renderer/zip.ts";

/** Reads an archive by its directory, as every unpacking program does. */
function unzipped(archive: Uint8Array): Map<string, Uint8Array> {
	const view = new DataView(archive.buffer, archive.byteOffset, archive.length);
	const end = archive.length - 22;
	expect(view.getUint32(end, true)).toBe(0x06054b50);
	const files = new Map<string, Uint8Array>();
	let at = view.getUint32(end + 16, true);
	for (let i = 0; i < view.getUint16(end + 10, true); i++) {
		expect(view.getUint32(at, true)).toBe(0x02014b50);
		const [crc, packed, plain] = [16, 20, 24].map((k) => view.getUint32(at + k, true));
		const nameLength = view.getUint16(at + 28, true);
		const local = view.getUint32(at + 42, true);
		const name = new TextDecoder().decode(archive.subarray(at + 46, at + 46 + nameLength));
		expect(view.getUint32(local, true)).toBe(0x04034b50);
		expect(view.getUint32(local + 14, true)).toBe(crc);
		const data = local + 30 + view.getUint16(local + 26, true) + view.getUint16(local + 28, true);
		const bytes = new Uint8Array(inflateRawSync(archive.subarray(data, data + packed)));
		expect(bytes.length).toBe(plain);
		expect(crc32(bytes)).toBe(crc);
		files.set(name, bytes);
		at += 46 + nameLength;
	}
	return files;
}

describe("zip", () => {
	it("has the check value of CRC-32", () => {
		// "123456789" gives cbf43926: the check value that catalogues of CRCs list for CRC-32, from memory.
		expect(crc32(new TextEncoder().encode("123456789"))).toBe(0xcbf43926);
	});
	it("holds what was put in", async () => {
		const random = seededRandom(4);
		const noise = Uint8Array.from({ length: 5000 }, () => random.below(256));
		const words = new TextEncoder().encode("map ".repeat(4000)) as Uint8Array<ArrayBuffer>;
		const archive = await zipped([
			{ name: "front.svg", bytes: words },
			{ name: "noise.bin", bytes: noise },
			{ name: "empty.txt", bytes: new Uint8Array(0) },
		]);
		expect(archive.length).toBeLessThan(words.length);
		const files = unzipped(archive);
		expect([...files.keys()]).toEqual(["front.svg", "noise.bin", "empty.txt"]);
		expect(files.get("front.svg")).toEqual(new Uint8Array(words));
		expect(files.get("noise.bin")).toEqual(noise);
		expect(files.get("empty.txt")).toEqual(new Uint8Array(0));
		expect(await zipped([])).toHaveLength(22);
	});
});
