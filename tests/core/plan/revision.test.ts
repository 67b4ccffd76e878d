import { expect, it } from "vitest";
import { newCommission } from "../../../core/plan/commission.ts";
import { nextRevision, revised } from "../../../core/plan/revision.ts";

it.each([
	["A", "B"],
	["Y", "Z"],
	["Z", "AA"],
	["AZ", "BA"],
	["ZZ", "AAA"],
	["2", "2'"],
])("the revision after %s is %s", (before, after) => {
	expect(nextRevision(before)).toBe(after);
});

it("names what it supersedes and what changed", () => {
	const next = revised(newCommission("owl.stl"), "10 mm lower");
	expect(next.sheet).toMatchObject({ revision: "B", supersedes: "A", changes: "10 mm lower" });
});
