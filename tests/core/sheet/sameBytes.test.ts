/** The PDF library has one build for Node and one for browsers; the sheets must not depend on which one a bundler takes. */

import { createHash } from "node:crypto";
import { expect, it, vi } from "vitest";
import { handPlan } from "../../support/handPlan.ts";
import { sheetFonts } from "../../support/sheetFonts.ts";

const sheetsWith = async (build: "node" | "es"): Promise<string> => {
	vi.resetModules();
	vi.doMock("jspdf", () => import(/* @vite-ignore */ `../../../node_modules/jspdf/dist/jspdf.${build}.min.js`));
	const { drawSheets } = await import("../../../core/sheet/drawSheets.ts");
	const { finish } = await import("../../../core/job.ts");
	const { pdf } = finish(drawSheets({ ...handPlan({ seed: 8, points: 30, rings: 24 }), fonts: sheetFonts() }));
	vi.doUnmock("jspdf");
	// Other files of tests are run by this process too.
	vi.resetModules();
	return createHash("sha256").update(pdf).digest("hex");
};

it("both builds write the same bytes", async () => {
	expect(await sheetsWith("es")).toBe(await sheetsWith("node"));
});
