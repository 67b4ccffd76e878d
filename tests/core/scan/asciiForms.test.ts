import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import { readScan, type ScanFile } from "../../../core/scan/readScan.ts";
import { memorySource } from "../../../core/scan/source.ts";
import { share } from "../../support/prove.ts";
import { asciiStl, bytesOf, meshOf, squareFigure } from "./scanWriters.ts";

const read = (text: string): ScanFile => finish(readScan(memorySource(bytesOf(text)), "text.stl"));

/** The obvious way: every "vertex" and its three numbers, welded by their values in a map. */
function twin(text: string): { positions: number[]; triangles: number[] } {
	const seen = new Map<string, number>();
	const positions: number[] = [];
	const triangles: number[] = [];
	for (const [, x, y, z] of text.matchAll(/vertex\s+(\S+)\s+(\S+)\s+(\S+)/gi)) {
		const point = [x, y, z].map((w) => Number(w) + 0);
		const key = point.join();
		if (!seen.has(key)) {
			seen.set(key, seen.size);
			positions.push(...point);
		}
		triangles.push(seen.get(key) ?? -1);
	}
	return { positions, triangles };
}

function expectAsTwin(text: string, what: string): void {
	const { mesh, origin } = read(text);
	const { positions, triangles } = twin(text);
	expect([...mesh.triangles], what).toEqual(triangles);
	expect(
		[...mesh.positions].map((p, i) => p + origin[i % 3]),
		what,
	).toEqual(positions);
}

describe("ASCII STL in its usual form, read facet by facet", () => {
	it(`agrees with the twin where the form changes on the way, ${share(1000)} seeded files`, () => {
		for (let seed = 0; seed < share(1000); seed++) {
			const random = seededRandom(seed);
			const pick = <T>(list: readonly T[]): T => list[random.below(list.length)];
			const newline = pick(["\n", "\r\n", "\r", " \n", " "]);
			const indent = pick(["", " ", "   ", "\t"]);
			const n = 3 + random.below(60);
			const number = (): string => {
				const x = (random.below(9) - 4) / pick([1, 2, 8, 1000, 3]);
				return pick([
					String(x),
					x.toExponential(6),
					x.toFixed(6),
					x.toExponential(12),
					`${x < 0 ? "" : "+"}${x}`,
					x === 0 ? "-0" : `${x}0`.replace(/^(-?\d+)0$/, "$1.0"),
				]);
			};
			const lines = ["solid s"];
			for (let t = 0; t < n; t++) {
				const odd = random.below(8) === 0;
				lines.push(
					`${odd && random.below(2) ? "FACET" : "facet"} normal ${random.below(6) === 0 ? "nan nan nan" : "0 0 1"}`,
				);
				if (!odd || random.below(2)) lines.push(`${indent}outer loop`);
				for (let k = 0; k < 3; k++)
					lines.push(
						`${indent}${odd ? " " : ""}vertex ${number()}${odd ? "  " : " "}${number()} ${number()}${odd ? " " : ""}`,
					);
				if (!odd || random.below(2)) lines.push(`${indent}endloop`);
				lines.push(odd && random.below(3) === 0 ? "" : "endfacet");
				if (odd && random.below(3) === 0) lines.push("endsolid s", "solid s again");
			}
			lines.push("endsolid s", "");
			expectAsTwin(lines.join(newline), `seed ${seed}`);
		}
	});

	it("agrees with the twin over many chunks, and with texts longer than are kept", () => {
		const figure = squareFigure(5, 100);
		const once = new TextDecoder().decode(asciiStl(figure, { number: (x) => (x / 7).toExponential(7) }));
		expectAsTwin(once.repeat(60), "sixty solids");
		const long = new TextDecoder().decode(asciiStl(figure, { number: (x) => (x / 7).toFixed(25) }));
		expectAsTwin(long.repeat(12), "long numbers");
	});

	it("gives one vertex to texts that differ and mean the same", () => {
		const figure = squareFigure(5, 30);
		let turn = 0;
		const forms = [(x: number) => String(x), (x: number) => `${x}.0`, (x: number) => x.toExponential(3)];
		const text = new TextDecoder().decode(asciiStl(figure, { number: (x) => forms[turn++ % 3](x) }));
		expect(read(text).mesh.positions.length).toBe(meshOf(figure).positions.length);
	});
});
