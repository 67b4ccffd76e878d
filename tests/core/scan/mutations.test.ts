import { describe, expect, it } from "vitest";
import { type Random, seededRandom } from "../../../core/random.ts";
import { Refusal } from "../../../core/refusal.ts";
import { readScan, type ScanFile } from "../../../core/scan/readScan.ts";
import { memorySource } from "../../../core/scan/source.ts";
import { scanRefusals } from "../../../core/text/scanRefusals.ts";
import { share } from "../../support/prove.ts";
import { countingMemory } from "./memory.ts";
import { binaryStl, bytesOf, joined, ply, squareFigure } from "./scanWriters.ts";
import { variants } from "./variants.ts";

const figure = squareFigure(8, 10);
const files = variants(figure).filter((_, i) => i % 3 === 0);

/** Bytes that a mutation likes to write: small, large, signs, digits, line ends. */
const LOADED = [0, 1, 2, 9, 10, 13, 32, 45, 46, 48, 57, 101, 127, 128, 253, 254, 255];

function mutate(bytes: Uint8Array, random: Random): Uint8Array {
	let all: Uint8Array = bytes.slice();
	for (let n = 1 + random.below(3); n > 0; n--) {
		const at = random.below(all.length);
		const some = 1 + random.below(random.below(4) === 0 ? 400 : 8);
		switch (random.below(7)) {
			case 0:
				all[at] ^= 1 << random.below(8);
				break;
			case 1:
				for (let i = at; i < Math.min(at + some, all.length); i++) all[i] = LOADED[random.below(LOADED.length)];
				break;
			case 2:
				all = all.slice(0, Math.max(1, at));
				break;
			case 3:
				all = joined([all.slice(0, at), all.slice(at + some)]);
				break;
			case 4:
				all = joined([all.slice(0, at), all.slice(at, at + some), all.slice(at)]);
				break;
			case 5:
				all = joined([all.slice(0, at), Uint8Array.from({ length: some }, () => random.below(256)), all.slice(at)]);
				break;
			default: {
				// A number of the text, or a count of the binary header, becomes a great one.
				const text = String.fromCharCode(...all);
				const numbers = [...text.matchAll(/\d+/g)];
				if (all.length >= 84 && random.below(2) === 0)
					new DataView(all.buffer).setUint32(80, random.below(2 ** 32), true);
				else if (numbers.length > 0) {
					const found = numbers[random.below(numbers.length)];
					const big = ["4000000000", "-1", "1e9", "999999999999999", "nan", "0"][random.below(6)];
					all = joined([all.slice(0, found.index), bytesOf(big), all.slice(found.index + found[0].length)]);
				}
			}
		}
		if (all.length === 0) all = Uint8Array.of(10);
	}
	return all;
}

/** Reads to the end, or until the reader has asked for so many pieces that it can only be going round in circles. */
function readCounted(bytes: Uint8Array): ScanFile | Refusal {
	let reads = 0;
	const source = memorySource(bytes);
	const counted = {
		size: source.size,
		read: (offset: number, length: number): Uint8Array => {
			if (++reads > 500) throw new Error("more than 500 reads of a file of a few kilobytes");
			return source.read(offset, length);
		},
	};
	const job = readScan(counted, "scan");
	try {
		for (let steps = 0; ; steps++) {
			const step = job.next();
			if (step.done) return step.value;
			if (steps > 2000) throw new Error("more than 2,000 steps for a file of a few kilobytes");
		}
	} catch (error) {
		if (error instanceof Refusal) return error;
		throw error;
	}
}

function expectSound(result: ScanFile | Refusal, what: string): void {
	if (result instanceof Refusal) {
		const sentence = scanRefusals[result.issue.code](result.issue.facts);
		if (/[\n\r]|undefined/.test(sentence)) expect.fail(`${what}: ${sentence}`);
		return;
	}
	const { positions, triangles, colours } = result.mesh;
	const vertices = positions.length / 3;
	if (triangles.length === 0 || triangles.length % 3 !== 0) expect.fail(`${what}: ${triangles.length} corners`);
	for (const v of triangles) if (v >= vertices) expect.fail(`${what}: corner ${v} of ${vertices} vertices`);
	for (const x of positions) if (!Number.isFinite(x)) expect.fail(`${what}: coordinate ${x}`);
	if (colours && colours.length !== positions.length) expect.fail(`${what}: ${colours.length} colours`);
}

describe("damaged files", () => {
	it(`are read or refused in one line, ${share(20_000)} seeded ones, within 20 times their size and 200 MB`, () => {
		let read = 0;
		let slowest = 0;
		for (let seed = 0; seed < share(20_000); seed++) {
			const file = files[seed % files.length];
			const bytes = mutate(file.bytes, seededRandom(seed));
			const what = `seed ${seed}, ${file.name}`;
			const start = performance.now();
			const { result, taken } = countingMemory(() => readCounted(bytes));
			slowest = Math.max(slowest, performance.now() - start);
			expectSound(result, what);
			if (taken > 20 * bytes.length + 200e6) expect.fail(`${what}: ${taken} bytes taken for ${bytes.length}`);
			if (!(result instanceof Refusal)) read++;
		}
		console.log(
			`${read} of ${share(20_000)} damaged files could still be read; the slowest took ${slowest.toFixed(0)} ms`,
		);
		expect(read).toBeGreaterThan(share(20_000) / 20);
	});

	it("whose damage only changes a finite coordinate are read", () => {
		const stl = binaryStl(figure);
		const body = ply(figure, { format: "binary_little_endian" });
		const bodyAt = String.fromCharCode(...body).indexOf("end_header\n") + 11;
		const random = seededRandom(99);
		let finite = 0;
		for (let i = 0; i < share(4000); i++) {
			const [bytes, at] =
				i % 2 === 0
					? [stl.slice(), 84 + 50 * random.below(2 * figure.squares.length) + 12 + 4 * random.below(9)]
					: [body.slice(), bodyAt + 4 * random.below(3 * figure.points.length)];
			bytes[at + random.below(4)] ^= 1 << random.below(8);
			const value = new DataView(bytes.buffer).getFloat32(at, true);
			const result = readCounted(bytes);
			if (!Number.isFinite(value)) {
				expect(result).toBeInstanceOf(Refusal);
				continue;
			}
			finite++;
			if (result instanceof Refusal) expect.fail(`${i}: ${result.message}`);
			expect(result.mesh.triangles.length).toBe(6 * figure.squares.length);
			const back = [...result.mesh.positions].map((x, k) => x + result.origin[k % 3]);
			expect(back).toContain(value + 0);
		}
		expect(finite).toBeGreaterThan(share(3000));
	});
});
