/** Finished pages of one plan as a PDF: head and foot, title, file id and date are the plan's. */

import type { Job } from "../job.ts";
import type { Plan } from "../plan/planFile.ts";
import type { SheetPage } from "./flow.ts";
import { type Fonts, readFontMetrics } from "./fontMetrics.ts";
import { furnish } from "./pageFurniture.ts";
import { openPdf } from "./pdfWriter.ts";

/** TrueType files of the two faces; `core/` reads no files itself. */
export interface FontFiles {
	readonly regular: Uint8Array;
	readonly bold: Uint8Array;
}

/** Refuses "sheet.font" where a file cannot be read. */
export const readFonts = (files: FontFiles): Fonts => ({
	regular: readFontMetrics(files.regular, "regular"),
	bold: readFontMetrics(files.bold, "bold"),
});

export interface SheetSet {
	/** What these sheets are, for title and file id: "sheets", "templates", … */
	readonly what: string;
	readonly subject: string;
}

/** Adds head and foot to the pages and writes them; there is at least one. */
export function* writePdf(
	fonts: Fonts,
	files: FontFiles,
	plan: Plan,
	pages: readonly SheetPage[],
	set: SheetSet,
): Job<Uint8Array> {
	const stage = `writing the ${set.what}`;
	furnish(fonts, plan, pages);
	const { sheet } = plan;
	const pdf = openPdf(
		fonts,
		files,
		{
			title: `${plan.name}, ${set.what}, plan ${plan.code}, revision ${sheet.revision}`,
			subject: set.subject,
			keywords: plan.code,
			identity: JSON.stringify([set.what, plan.name, plan.code, sheet, plan.model.sha256]),
			date: sheet.date,
		},
		pages[0].drawing,
	);
	for (const [i, page] of pages.entries()) {
		pdf.add(page);
		yield { stage, share: (0.9 * (i + 1)) / pages.length };
	}
	return pdf.finish();
}
