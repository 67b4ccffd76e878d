/** Head and foot of every page: commission, plan code, revision and page, so that sheets of two plans are never mixed. */

import type { Plan } from "../plan/planFile.ts";
import { type Drawing, line, rect, text } from "./drawing.ts";
import type { SheetPage } from "./flow.ts";
import { type Fonts, textWidth, wrapText } from "./fontMetrics.ts";
import { MARGIN } from "./paper.ts";
import { BODY, bodyBold, PAPER, quiet, RADDLE, rule } from "./style.ts";

/** Adds head and foot to finished pages. */
export function furnish(fonts: Fonts, plan: Plan, pages: readonly SheetPage[]): void {
	pages.forEach(({ drawing }, i) => {
		furnishPage(fonts, plan, drawing, i + 1, pages.length);
	});
}

function furnishPage(fonts: Fonts, plan: Plan, on: Drawing, page: number, pages: number): void {
	const right = on.width - MARGIN;
	const y = MARGIN + BODY;
	const code = `plan ${plan.code} · revision ${plan.sheet.revision}${plan.sheet.date === "" ? "" : ` · ${plan.sheet.date}`}`;
	text(on, right, y, code, { ...quiet, anchor: "end" });
	let x = MARGIN;
	if (plan.model.mirrored) {
		const words = "MIRRORED";
		const width = textWidth(fonts, words, BODY, true) + 4;
		rect(on, x, y - 4, width, 5.4, { fill: RADDLE });
		text(on, x + 2, y, words, { ...bodyBold, colour: PAPER });
		x += width + 3;
	}
	const room = right - x - textWidth(fonts, code, BODY) - 6;
	const [name] = wrapText(fonts, plan.name, room, BODY, true);
	text(on, x, y, name === plan.name ? name : `${name} …`, bodyBold);
	line(on, rule, MARGIN, MARGIN + 5.6, right, MARGIN + 5.6);

	const foot = on.height - MARGIN;
	line(on, rule, MARGIN, foot - 5.2, right, foot - 5.2);
	text(on, MARGIN, foot, on.title, quiet);
	const units = plan.sheet.units === "mm" ? "millimetres" : "inches";
	text(on, right, foot, `page ${page} of ${pages}`, { ...quiet, anchor: "end" });
	const last = textWidth(fonts, `page ${pages} of ${pages}`, BODY) + 6;
	text(on, right - last, foot, `lengths in ${units}`, { ...quiet, anchor: "end" });
}
