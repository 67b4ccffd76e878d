/** After the last point: grades, gilded areas, weight and pin, for the cover. */

import { leavesText } from "../finish/gilding.ts";
import { gradeName } from "../finish/gradeWords.ts";
import type { Plan } from "../plan/planFile.ts";
import { angleText, lengthText, massRangeText, sizeText } from "../text/format.ts";
import { fact } from "./facts.ts";
import type { Flow } from "./flow.ts";

type Fixing = NonNullable<NonNullable<Plan["finish"]>["fixing"]>;

export function writeFinish(flow: Flow, { finish, sheet, rounds }: Plan): void {
	if (!finish) return;
	const units = sheet.units;
	const { grades, gilded, fixing } = finish;
	flow.heading("After the last point", 20);
	if (grades.length > 0) {
		const last = rounds[rounds.length - 1].join_mm;
		const names = grades.map(({ kind, grit, wet }) => gradeName({ kind, grit, wet, grain_um: null }));
		const fits = finish.gradesTake_mm <= last;
		fact(
			flow,
			"Grades",
			`${names.join("; ")}: ${lengthText(finish.gradesTake_mm, units, 2)} of the last ${lengthText(last, units, 2)}`,
			!fits,
		);
	} else fact(flow, "Grades", "left as carved");
	for (const { name, area_mm2, leaves, books } of gilded)
		fact(flow, "Gilded", `${name}: ${(area_mm2 / 100).toFixed(0)} cm², ${leavesText({ leaves, books })}`);
	if (fixing) writeFixing(flow, fixing, units);
}

function writeFixing(flow: Flow, fixing: Fixing, units: Plan["sheet"]["units"]): void {
	const { mass_kg, centre_mm, tips_deg, wholeTips_deg, wholeMass_kg, pin } = fixing;
	const tips = tips_deg === null ? "no flat foot" : `tips by itself at ${angleText(tips_deg)}`;
	fact(
		flow,
		"Figure",
		`${massRangeText(...mass_kg)}, its weight ${lengthText(centre_mm[2], units)} over the foot; ${tips}`,
	);
	if (wholeMass_kg && wholeTips_deg !== null)
		fact(flow, "On its base", `${massRangeText(...wholeMass_kg)}, tips at ${angleText(wholeTips_deg)}`);
	if (!pin) return;
	const place = `${lengthText(pin.at_mm[0], units)} right and ${lengthText(pin.at_mm[1], units)} behind the model's middle`;
	const cover = pin.cover_mm === null ? "no stone over it" : `${lengthText(pin.cover_mm, units)} of stone round it`;
	const hole = `hole ${sizeText(pin.hole_mm, units)}, ${lengthText(pin.depth_mm, units)} deep in the figure`;
	const base = pin.baseDepth_mm === null ? "" : `, bar ${lengthText(pin.baseDepth_mm, units)} into the base`;
	fact(
		flow,
		"Pin",
		`${pin.holds ? "" : "DOES NOT HOLD: "}bar ${sizeText(pin.bar_mm, units)}, ${hole}${base}; ${place}; ${cover}`,
		!pin.holds,
	);
}
