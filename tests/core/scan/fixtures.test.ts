import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { Refusal } from "../../../core/refusal.ts";
import { examine } from "../../../core/scan/health.ts";
import { readScan } from "../../../core/scan/readScan.ts";
import { memorySource } from "../../../core/scan/source.ts";
import { proposeUnit } from "../../../core/scan/unit.ts";
import { FIXTURES } from "./fixtureFiles.ts";

interface Expected {
	acceptedError: number;
	read: Record<string, Record<string, unknown>>;
	refused: Record<string, string>;
}

const folder = new URL("../../../fixtures/", import.meta.url);
const expected = JSON.parse(readFileSync(new URL("expected.json", folder), "utf8")) as Expected;
const bytesOf = (name: string): Uint8Array => new Uint8Array(readFileSync(new URL(name, folder)));

const COUNTS = [
	"openEdges",
	"nonManifoldEdges",
	"flippedTriangles",
	"degenerateTriangles",
	"duplicateTriangles",
	"duplicateSameWay",
] as const;

describe("the folder", () => {
	it("holds what the recipe makes, byte for byte, and expected.json speaks of every scan", () => {
		const scans = readdirSync(folder).filter((name) => /\.(stl|ply)$/.test(name));
		expect(scans.sort()).toEqual(Object.keys(FIXTURES).sort());
		expect([...Object.keys(expected.read), ...Object.keys(expected.refused)].sort()).toEqual(scans);
		for (const name of scans) expect(Buffer.compare(bytesOf(name), FIXTURES[name]), name).toBe(0);
	});
});

describe("read", () => {
	it.each(Object.entries(expected.read))("%s", (name, want) => {
		const scan = finish(readScan(memorySource(bytesOf(name)), name));
		const health = finish(examine(scan.mesh));
		expect(scan.format).toBe(want.format);
		expect(scan.notes.map((n) => n.code)).toEqual(want.notes ?? []);
		expect(scan.mesh.colours !== undefined).toBe(want.coloured ?? false);
		expect(health.triangles).toBe(want.triangles);
		expect(health.weldedVertices).toBe(want.weldedVertices);
		expect(health.shells).toBe(want.shells);
		for (const count of COUNTS) expect(health[count], count).toBe(want[count] ?? 0);
		if (want.loops) expect([...health.places.loops.length]).toEqual(want.loops);
		if (want.volume === null) expect(health.volume).toBeNull();
		for (const sum of ["area", "volume"] as const) {
			const value = want[sum];
			if (typeof value === "number") expect(Math.abs(health[sum]! / value - 1)).toBeLessThan(expected.acceptedError);
		}
		const { min, max } = health.bounds;
		expect(proposeUnit(Math.max(max[0] - min[0], max[1] - min[1], max[2] - min[2])).unit).toBe(want.unit);
	});
});

describe("refused", () => {
	it.each(Object.entries(expected.refused))("%s: %s", (name, code) => {
		try {
			finish(readScan(memorySource(bytesOf(name)), name));
			expect.fail("was read");
		} catch (error) {
			if (!(error instanceof Refusal)) throw error;
			expect(error.issue.code).toBe(code);
			expect(error.issue.facts.name).toBe(name);
		}
	});
});
