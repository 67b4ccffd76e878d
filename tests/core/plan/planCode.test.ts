import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { logEntrySchema } from "../../../core/plan/commission/log.ts";
import { type Commission, newCommission } from "../../../core/plan/commission.ts";
import { createPlanner, openScan } from "../../../core/plan/planner.ts";
import { memorySource } from "../../../core/scan/source.ts";

const bytes = new Uint8Array(readFileSync(new URL("../../../fixtures/box.stl", import.meta.url)));
const planner = createPlanner();
const scan = finish(openScan(memorySource(bytes), "box.stl"));
const plain = newCommission("box.stl");
const commission: Commission = { ...plain, rounds: plain.rounds.slice(0, 2) };
const codeOf = (change: Partial<Commission>): string | undefined =>
	finish(planner.work(scan, { ...commission, ...change })).plan?.code;
const code = codeOf({});

it("is six letters that are not mistaken for figures or for each other", () => {
	expect(code).toMatch(/^[2-9A-HJ-NP-Z]{6}$/);
});

const entry = logEntrySchema.parse({
	id: "0123456789",
	at: "2024-03-11T08:00:00",
	kind: "note",
	text: "The bed runs true.",
});
const { sheet, rounds } = commission;
it.each<[string, Partial<Commission>]>([
	["another paper", { sheet: { ...sheet, paper: "Letter" } }],
	["another date and revision", { sheet: { ...sheet, date: "2024-03-11", revision: "B", supersedes: "A" } }],
	["a further view", { sheet: { ...sheet, views: [{ name: "from the corner", towards: [1, 1, 0] }] } }],
	["contour lines closer together", { sheet: { ...sheet, contour_mm: 2 } }],
	["another name", { name: "for the gate" }],
	["other names of the rounds", { rounds: rounds.map((round) => ({ ...round, name: `${round.name} again` })) }],
	["a day at the bench", { log: [entry] }],
	["another hourly price", { quote: { ...commission.quote, rates: { ...commission.quote.rates, hourPrice: 60 } } }],
])("stays with %s", (_, change) => {
	expect(codeOf(change)).toBe(code);
});

it.each<[string, Partial<Commission>]>([
	["deeper holes", { rounds: rounds.map((round) => ({ ...round, stop_mm: 4 })) }],
	["other points", { picks: [{ position_mm: [40, -100, 60], normal: [0, -1, 0] }] }],
	["another drill", { rounds: rounds.map((round) => ({ ...round, tool: { ...round.tool, drill_mm: 8 } })) }],
	["lengths in inches", { sheet: { ...sheet, units: "in" } }],
	["another block", { stone: { ...commission.stone, block_mm: [400, 300, 200] } }],
	["the mirrored one", { scan: { ...commission.scan, mirrored: true } }],
])("is another with %s", (_, change) => {
	expect(codeOf(change)).not.toBe(code);
});
