import { describe, expect, it } from "vitest";
import { lengthText, parseLength } from "../../core/text/format.ts";
import { rotationFromQuaternion, turn } from "../../core/vector.ts";
import { readTyped } from "../../renderer/fields/written.ts";
import { turnedStance } from "../../renderer/state/stance.ts";

const read = (text: string) =>
	readTyped(text, parseLength(text), {
		label: "margin top",
		kind: "a length",
		least: 0,
		most: 1000,
		say: (mm) => lengthText(mm),
	});

describe("typed lengths", () => {
	it("takes either unit, point or comma", () => {
		expect(read("76,2")).toEqual({ ok: true, value: 76.2 });
		expect(read("3 in")).toEqual({ ok: true, value: 3 * 25.4 });
	});
	it("says what was typed and what is expected", () => {
		expect(read("abc")).toEqual({ ok: false, trouble: "margin top: “abc” is not a length." });
		const over = read("2 m");
		expect(over.ok).toBe(false);
		expect((over as { trouble: string }).trouble.replace(/\s/g, " ")).toBe(
			"margin top: 2000.0 mm is outside 0.0 mm to 1000.0 mm.",
		);
	});
});

describe("quarter turns", () => {
	it("bring the top where they say, as seen from the front", () => {
		const top = (stance: [number, number, number, number]) =>
			turn(rotationFromQuaternion(stance), [0, 0, 1]).map((c) => Math.round(c) + 0);
		const upright = [0, 0, 0, 1] as const;
		expect(top(turnedStance(upright, "forward", 90, false))).toEqual([0, -1, 0]);
		expect(top(turnedStance(upright, "back", 90, false))).toEqual([0, 1, 0]);
		expect(top(turnedStance(upright, "left", 90, false))).toEqual([-1, 0, 0]);
		expect(top(turnedStance(upright, "right", 90, false))).toEqual([1, 0, 0]);
		expect(top(turnedStance(upright, "round", 90, false))).toEqual([0, 0, 1]);
	});
	it("come back to where they began, without drifting", () => {
		for (const way of ["forward", "back", "left", "right", "round"] as const) {
			let stance: [number, number, number, number] = [0, 0, 0, 1];
			for (let i = 0; i < 4; i++) stance = turnedStance(stance, way, 90, false);
			expect(stance, way).toEqual([0, 0, 0, 1]);
		}
		let stance: [number, number, number, number] = [0, 0, 0, 1];
		const turns = ["forward", "left", "round", "back", "right"] as const;
		for (let i = 0; i < 1000; i++) stance = turnedStance(stance, turns[i % 5], 90, false);
		expect(stance.every((c) => Number.isInteger(c) && Math.abs(c) <= 1)).toBe(true);
	});
});
