import { describe, expect, it } from "vitest";
import { type Commission, newCommission } from "../../core/plan/commission.ts";
import { documentText, readCommission } from "../../core/plan/readDocument.ts";
import type { AnswersShown, ScanShown } from "../../renderer/jobs/shown.ts";
import { turnedStance, withStance, withStanceSaid } from "../../renderer/state/stance.ts";
import { pageAnswer } from "../../renderer/words/pageAnswers.ts";
import { demoCommission } from "../../seeds/demo.ts";
import { seeds } from "../../seeds/index.ts";

const line = (commission: Commission): string =>
	pageAnswer(
		"model",
		{} as ScanShown,
		{ ...commission, transfer: "faces" },
		{ model: { size: [100, 90, 139] }, waits: [] } as unknown as AnswersShown,
		"mm",
		{ model: false } as never,
	).words;

describe("whether a scan stands as it was scanned", () => {
	const fresh = withStanceSaid(newCommission("dragon.ply"), false);

	it("is said by the height until the carver has said it", () => {
		expect(line(fresh)).toBe("139 mm high as scanned");
		const tipped = withStance(fresh, turnedStance(fresh.model.stance, "forward", 90, false));
		expect(line(tipped)).toBe("139 mm high, if it stands so");
		expect(line(withStanceSaid(tipped, true))).toBe("139 mm high");
	});

	it("is kept in the commission, and taken for said in a document that says nothing of it", () => {
		expect(readCommission(documentText(fresh), "it").model.stanceSaid).toBe(false);
		const { stanceSaid: _, ...model } = fresh.model;
		expect(readCommission(JSON.stringify({ ...fresh, model }), "it").model.stanceSaid).toBe(true);
	});

	it("is not asked of a demo", () => {
		for (const seed of seeds) expect(demoCommission(seed).model.stanceSaid).toBe(true);
	});
});
