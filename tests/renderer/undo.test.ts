import { describe, expect, it } from "vitest";
import { begin, JOINS_WITHIN_MS, record, redo, undo } from "../../renderer/state/undo.ts";

describe("undo", () => {
	it("goes back and forth one step at a time, in words", () => {
		let h = begin(0);
		h = record(h, "first", "", 1, 0);
		h = record(h, "second", "", 2, 10);
		expect(h.past.map((step) => step.words)).toEqual(["first", "second"]);
		h = undo(h);
		expect(h.present).toBe(1);
		expect(h.future.map((step) => step.words)).toEqual(["second"]);
		h = undo(h);
		expect(h.present).toBe(0);
		expect(undo(h)).toBe(h);
		h = redo(redo(h));
		expect(h.present).toBe(2);
		expect(redo(h)).toBe(h);
		expect(h.past.map((step) => step.words)).toEqual(["first", "second"]);
	});

	it("forgets what was undone once something else is done", () => {
		let h = record(record(begin("a"), "b", "", "b", 0), "c", "", "c", 1);
		h = record(undo(h), "d", "", "d", 2);
		expect(h.future).toEqual([]);
		expect(undo(h).present).toBe("b");
	});

	it("joins steps of one key that follow closely, and keeps them apart when they do not", () => {
		let h = begin(0);
		h = record(h, "nudge 1", "nudge", 1, 0);
		h = record(h, "nudge 2", "nudge", 2, JOINS_WITHIN_MS);
		expect(h.past).toHaveLength(1);
		expect(h.past[0].words).toBe("nudge 2");
		h = record(h, "nudge 3", "nudge", 3, 2 * JOINS_WITHIN_MS + 1);
		expect(h.past).toHaveLength(2);
		expect(undo(undo(h)).present).toBe(0);
	});

	it("never joins a step without a key, nor one that was undone in between", () => {
		const apart = record(record(begin(0), "a", "", 1, 0), "b", "", 2, 1);
		expect(apart.past).toHaveLength(2);
		const back = redo(undo(record(begin(0), "a", "k", 1, 0)));
		expect(record(back, "b", "k", 2, 1).past).toHaveLength(2);
	});

	it("takes no step to the same state", () => {
		const h = begin("same");
		expect(record(h, "nothing", "", "same", 0)).toBe(h);
	});
});
