import { describe, expect, it } from "vitest";
import { aimOf, type Drill, drillOf, growth, stopAllowances } from "../../../core/drilling/drill.ts";
import { commissionSchema, DEFAULT_ROUNDS, roundSchema, toolSchema } from "../../../core/plan/commission.ts";
import { Refusal } from "../../../core/refusal.ts";
import { drillingRefusals } from "../../../core/text/drillingRefusals.ts";
import { stopOnPlane } from "./stopOnPlane.ts";

const drill = (tip: Drill["tip"]): Drill => ({ ...drillOf(toolSchema.parse({ tip })), holeRadius: 3.25 });
const tan = (degrees: number): number => Math.tan((degrees * Math.PI) / 180);

describe("the stop on a plane (handbook 8)", () => {
	const tilts = [0, 1, 7.5, 30, 31, 31.5, 45];
	const [a, r] = [2, 3.25];
	const rad = Math.PI / 180;

	it("ball: (a + r)/cos t − r", () => {
		for (const t of tilts)
			expect(stopOnPlane(drill("ball"), a, tan(t))).toBeCloseTo((a + r) / Math.cos(t * rad) - r, 9);
	});
	it("flat: (a + r sin t)/cos t", () => {
		for (const t of tilts)
			expect(stopOnPlane(drill("flat"), a, tan(t))).toBeCloseTo((a + r * Math.sin(t * rad)) / Math.cos(t * rad), 9);
	});
	it("pointed: the greater of a/cos t and (a + r sin t)/cos t − r cot(q/2)", () => {
		for (const q of [90, 118, 140]) {
			for (const t of tilts) {
				const shoulder = (a + r * Math.sin(t * rad)) / Math.cos(t * rad) - r / tan(q / 2);
				const expected = Math.max(a / Math.cos(t * rad), shoulder);
				expect(stopOnPlane({ ...drill("pointed"), pointAngleDeg: q }, a, tan(t))).toBeCloseTo(expected, 9);
			}
		}
	});
});

describe("drills, aims and allowances", () => {
	it("takes the hole from drill and oversize, the chuck from its diameter", () => {
		expect(drillOf(toolSchema.parse({}))).toEqual({
			tip: "flat",
			holeRadius: 3.25,
			diameter: 6,
			pointAngleDeg: 118,
			reach: 300,
			chuckRadius: 22.5,
			action: "carbide",
		});
	});

	it("aims by hand from a face at 1 mm, 1° and 1 %, guided by the machine at 0.5 mm in all", () => {
		expect(aimOf("faces")).toEqual({ mark: 1, leanDeg: 1, wander: 0.01, fromFace: true });
		expect(aimOf("straightedge").fromFace && aimOf("callipers").fromFace).toBe(true);
		expect(aimOf("machine")).toEqual({ mark: 0.5, leanDeg: 0, wander: 0, fromFace: false });
		expect(growth(aimOf("machine"))).toBe(0);
		expect(growth(aimOf("faces"))).toBeCloseTo(tan(1) + 0.01, 12);
		const own = aimOf("machine", { mark_mm: 2, lean_deg: 3, wander: 0.02 });
		expect(own).toEqual({ mark: 2, leanDeg: 3, wander: 0.02, fromFace: false });
	});

	const rounds = (action: "diamond" | "carbide" | "hammer", joins = [10, 6, 3.5, 2]) =>
		joins.map((join_mm, i) =>
			roundSchema.parse({ name: `round ${i}`, join_mm, tool: { action: i < joins.length - 2 ? action : "carbide" } }),
		);

	it("drills once to the last net's stop, or by rounds to each join, never under the bruise", () => {
		expect(stopAllowances(rounds("carbide"), "once")).toEqual([2, 2, 2, 2]);
		expect(stopAllowances(rounds("carbide"), "by rounds")).toEqual([10, 6, 3.5, 2]);
		expect(stopAllowances(rounds("hammer"), "once")).toEqual([6, 6, 2, 2]);
		expect(stopAllowances(rounds("diamond", [10, 6, 3.5, 1.5]), "once")).toEqual([1.5, 1.5, 2, 2]);
		const own = DEFAULT_ROUNDS.map((round) => roundSchema.parse({ ...round, stop_mm: 0.5 }));
		expect(stopAllowances(own, "once")).toEqual([2, 2, 2, 2]);
		const commission = commissionSchema.parse({ format: "puntello-commission", version: 1, scan: { file: "x.stl" } });
		expect(stopAllowances(commission.rounds, commission.holes)).toEqual([2, 2, 2, 2]);
	});

	it("refuses hammer action in the last two rounds, in words", () => {
		const late = DEFAULT_ROUNDS.map((round, i) =>
			roundSchema.parse({ ...round, tool: { action: i === 2 ? "hammer" : "carbide" } }),
		);
		let refusal: Refusal | null = null;
		try {
			stopAllowances(late, "once");
		} catch (error) {
			refusal = error as Refusal;
		}
		expect(refusal).toBeInstanceOf(Refusal);
		expect(refusal!.issue.code).toBe("drilling.hammerTooLate");
		expect(drillingRefusals[refusal!.issue.code](refusal!.issue.facts)).toContain("close net");
	});
});
