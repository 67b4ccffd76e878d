import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { z } from "zod";
import { newCommission } from "../../../core/plan/commission.ts";
import { jsonSchemas } from "../../../core/plan/jsonSchemas.ts";
import { readCommission, readDocument } from "../../../core/plan/readDocument.ts";
import { Refusal } from "../../../core/refusal.ts";
import { refusalText } from "../../../core/text/refusals.ts";

const whole = { format: "puntello-commission", version: 1, scan: { file: "owl.stl" } };
const refused = (text: string): string => {
	try {
		readCommission(text, "a.commission.json");
	} catch (error) {
		if (error instanceof Refusal) return refusalText(error.issue);
		throw error;
	}
	throw new Error("not refused");
};

describe("documents", () => {
	it("fills in every default and reads its own writing back", () => {
		const commission = newCommission("owl.stl");
		expect(readCommission(JSON.stringify(whole), "a")).toEqual(commission);
		expect(readCommission(JSON.stringify(commission), "a")).toEqual(commission);
		// Defaults of the handbook, section 6.
		expect(commission.rounds.map((round) => round.join_mm)).toEqual([10, 6, 3.5, 2]);
	});

	it.each([
		["{", /not a readable document/],
		["[]", /no puntello-commission document: found a list/],
		[JSON.stringify({ ...whole, format: "other" }), /found other/],
		[JSON.stringify({ ...whole, version: 2 }), /newer Puntello: version 2/],
		[JSON.stringify({ ...whole, version: "1" }), /carries the version 1/],
		[JSON.stringify({ ...whole, stoen: 1 }), /not known: stoen/],
		[JSON.stringify({ ...whole, stone: { margin: 3 } }), /not known: stone\.margin/],
		[
			JSON.stringify({ ...whole, rounds: [{ name: "one", join_mm: 3, tool: { dril_mm: 3 } }] }),
			/rounds\[0\]\.tool\.dril_mm/,
		],
		[JSON.stringify({ ...whole, model: { scale: -1 } }), /model\.scale/],
		[JSON.stringify({ ...whole, model: { scale: "1" } }), /model\.scale/],
	])("refuses %s in one line that names the place", (text, sentence) => {
		const line = refused(text);
		expect(line).toMatch(sentence);
		expect(line).not.toContain("\n");
	});

	it("refuses numbers that are none, as JSON cannot carry them but a program can", () => {
		expect(refused(JSON.stringify({ ...whole, seatError_mm: null }))).toMatch(/seatError_mm/);
	});

	it("reads a document of the first day, and keeps everything that was entered in it", () => {
		// Written by the program as it stood when the form was laid down, with no value at its default.
		const text = readFileSync(new URL("../../../fixtures/first-day.commission.json", import.meta.url), "utf8");
		const [old, now] = [JSON.parse(text), JSON.parse(JSON.stringify(readCommission(text, "first day")))];
		expect(now).toMatchObject(old);
		expect(Object.keys(now).length).toBeGreaterThan(Object.keys(old).length);
	});

	it("upgrades an older version step by step, and refuses what an upgrade makes of a wrong one", () => {
		const steps: number[] = [];
		const step = (from: number, deed: (d: Record<string, unknown>) => Record<string, unknown>) => {
			return (d: Record<string, unknown>) => {
				steps.push(from);
				return { ...deed(d), version: from + 1 };
			};
		};
		const kind = {
			format: "puntello-commission",
			version: 3,
			schema: z.strictObject({ format: z.string(), version: z.literal(3), depth_mm: z.number() }),
			upgrades: {
				1: step(1, ({ deep, ...rest }) => ({ ...rest, depth: deep })),
				2: step(2, ({ depth, ...rest }) => ({ ...rest, depth_mm: (depth as number) * 10 })),
			},
		};
		const read = (document: object) => readDocument(JSON.stringify({ format: kind.format, ...document }), "a", kind);
		expect(read({ version: 1, deep: 2 })).toMatchObject({ version: 3, depth_mm: 20 });
		expect(steps.splice(0)).toEqual([1, 2]);
		expect(read({ version: 2, depth: 3 })).toMatchObject({ version: 3, depth_mm: 30 });
		expect(steps.splice(0)).toEqual([2]);
		expect(read({ version: 3, depth_mm: 4 })).toMatchObject({ depth_mm: 4 });
		expect(steps).toEqual([]);
		expect(() => read({ version: 2, depth: 3, more: 1 })).toThrow(/document\.unknownKey/);
		expect(() => read({ version: 4 })).toThrow(/document\.newer/);
	});

	it("has its JSON Schema files made from the schemas (npm run schemas)", () => {
		for (const [file, text] of Object.entries(jsonSchemas()))
			expect(readFileSync(new URL(`../../../core/plan/${file}`, import.meta.url), "utf8")).toBe(text);
	});
});
