import { describe, expect, it } from "vitest";
import { benchSheet } from "../../../core/bench/benchRows.ts";
import { CSV_HEADER, writeCsv } from "../../../core/sheet/pointsCsv.ts";
import { handPlan } from "../../support/handPlan.ts";

/** A reader written from the grammar of RFC 4180, section 2, and nothing else. */
function parseCsv(text: string): string[][] {
	const rows: string[][] = [];
	let row: string[] = [];
	let i = 0;
	while (i < text.length) {
		let field = "";
		if (text[i] === '"') {
			for (i++; ; i++) {
				if (text[i] !== '"') field += text[i];
				else if (text[i + 1] === '"') field += text[i++];
				else break;
			}
			i++;
		} else while (i < text.length && text[i] !== "," && text[i] !== "\r") field += text[i++];
		row.push(field);
		if (text[i] === ",") {
			i++;
			if (i === text.length) row.push("");
		} else {
			expect(text.slice(i, i + 2)).toBe("\r\n");
			i += 2;
			rows.push(row);
			row = [];
		}
	}
	return rows;
}

describe("points as comma-separated values", () => {
	const { plan } = handPlan({ seed: 4, points: 80, transfer: "callipers" });
	plan.points[3].reason = 'blocked by the "left" wing,\r\nopens from the back';
	const rows = parseCsv(writeCsv(plan));

	it("has a header with units and a row for each point", () => {
		expect(rows[0]).toEqual([...CSV_HEADER]);
		expect(rows.length).toBe(81);
		for (const row of rows) expect(row.length).toBe(CSV_HEADER.length);
	});

	it("says what the drill's stop reads: the depth from its set zero", () => {
		const { plan: reground } = handPlan({ seed: 4, points: 20 });
		for (const { tool } of reground.rounds) tool.setZero_mm = -3.2;
		const [head, ...read] = parseCsv(writeCsv(reground));
		const at = head.indexOf("stop_reads_mm");
		expect(read.some((row) => row[at] !== "")).toBe(true);
		reground.points.forEach(({ depth_mm: depth }, i) => {
			if (depth === null) expect(read[i][at]).toBe("");
			else expect(Number(read[i][at])).toBeCloseTo(depth - 3.2, 5);
		});
		// The bench view has the printed figure: the printed depth, moved by the set zero.
		for (const { figures } of benchSheet(reground).rows) {
			const figure = (name: string): number => Number.parseFloat(figures.find((f) => f.name === name)?.value ?? "");
			expect(figure("stop reads")).toBeCloseTo(figure("depth") - 3.2, 9);
		}
		for (const { figures } of benchSheet(plan).rows) expect(figures.map((f) => f.name)).not.toContain("stop reads");
	});

	it("gives every number back as the plan has it", () => {
		const column = (name: string): number => CSV_HEADER.indexOf(name);
		const back = (word: string): number | null => (word === "" ? null : Number(word));
		plan.points.forEach((p, i) => {
			const row = rows[i + 1];
			expect(Number(row[column("number")])).toBe(p.number);
			for (const [name, value] of [
				["u_mm", p.u_mm],
				["v_mm", p.v_mm],
				["depth_mm", p.depth_mm],
				["lean_v_deg", p.lean_deg?.[1] ?? null],
				["normal_z", p.normal[2]],
				["callipers_stone_C_mm", p.callipers_mm?.stone[2] ?? null],
				["error_mm", p.error_mm],
			] as const)
				expect(back(row[column(name)]), name).toBe(value);
			expect(row[column("reason")]).toBe(p.reason);
			expect(row[column("undercut")]).toBe(String(p.undercut));
			expect(row[column("round_name")]).toBe(plan.rounds[p.round].name);
		});
	});
});
