import { expect, it } from "vitest";
import { FEWEST } from "../../../core/bench/moved.ts";
import { toRead } from "../../../core/bench/toRead.ts";
import type { LogEntry } from "../../../core/plan/commission.ts";
import type { PlanProofMark } from "../../../core/plan/planFile.ts";
import { toReadText } from "../../../core/text/movedWords.ts";
import { distance } from "../../../core/vector.ts";
import { handPlan } from "../../support/handPlan.ts";

const { plan } = handPlan({ points: 90, seed: 4 });
const drilled = plan.points.filter((point) => !point.undercut);
let made = 0;
const entry = (point: number, at: string, over_mm?: number): LogEntry => {
	const id = `entry${String(made++).padStart(6, "0")}`;
	return over_mm === undefined
		? { kind: "done", id, at, hand: "", point, seconds: null }
		: { kind: "reading", id, at, hand: "", point, over_mm };
};

it("asks for done points that lie far apart, and counts what is there today and what is lacking", () => {
	const done = drilled.slice(0, 30).map(({ number }) => entry(number, "2026-03-02T09:00:00"));
	const none = toRead({ ...plan, proofMarks: [] }, done, "2026-03-03");
	expect(none).toMatchObject({ read: [], lacking: FEWEST, first: [], marks: [] });
	expect(new Set(none.points).size).toBe(12);
	// No point that is left out lies farther from those asked for than the last of them did from those before it.
	const place = (number: number) => drilled.find((point) => point.number === number)?.model_mm ?? [0, 0, 0];
	const gap = (number: number, others: readonly number[]): number =>
		Math.min(...others.map((other) => distance(place(number), place(other))));
	const last = gap(none.points[11], none.points.slice(0, 11));
	for (const { number } of drilled.slice(1, 30))
		if (!none.points.includes(number)) expect(gap(number, none.points.slice(0, 11))).toBeLessThanOrEqual(last + 1e-9);

	const [a, b] = none.points;
	const again = [...done, entry(a, "2026-03-03T08:00:00", 2), entry(b, "2026-03-03T08:01:00", 2)];
	const some = toRead({ ...plan, proofMarks: [] }, again, "2026-03-03");
	expect([...some.read].sort()).toEqual([String(a), String(b)].sort());
	expect(some.lacking).toBe(FEWEST - 2);
	expect(some.points).not.toContain(a);
	expect(toReadText(some, "faces")[0]).toMatch(/^2 read again today .*at least 5 of one day can tell, 3 are lacking/);
	// What was read yesterday says nothing of today.
	expect(toRead({ ...plan, proofMarks: [] }, again, "2026-03-04").lacking).toBe(FEWEST);
});

it("asks for the first reading of a proof mark, then for it again", () => {
	const name = "P";
	const { entry_mm, line, face, u_mm, v_mm, model_mm, normal } = drilled[0];
	const onPlan = { name, model_mm, normal, entry_mm, line, face, u_mm, v_mm, waste_mm: 40, fromHole_mm: null };
	const marked = { ...plan, proofMarks: [onPlan as PlanProofMark] };
	const mark = (at: string): LogEntry => ({
		kind: "mark",
		id: `mark${at.replace(/\D/g, "")}`,
		at,
		hand: "",
		mark: name,
		moment: "start of the day",
		read_mm: 40,
	});
	expect(toRead(marked, [], "2026-03-02").first).toContain(name);
	const once = toRead(marked, [mark("2026-03-02T08:00:00")], "2026-03-02");
	expect(once.first).not.toContain(name);
	expect(once.marks).toContain(name);
	const twice = toRead(marked, [mark("2026-03-02T08:00:00"), mark("2026-03-02T17:00:00")], "2026-03-02");
	expect(twice.marks).not.toContain(name);
	expect(twice.read).toEqual([`mark ${name}`]);
});
