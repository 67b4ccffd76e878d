/** What comes first: the seats, and the faces that everything is measured on. */

import type { Plan } from "../plan/planFile.ts";
import { finely, lengthNumber, lengthText, unitWord } from "../text/format.ts";
import { EDGE_WORDS, PROOF_WORDS, SEAT_WORDS } from "../text/sheetWords.ts";
import { rect } from "./drawing.ts";
import { faceSketches } from "./faceSketches.ts";
import { shownSets } from "./faces.ts";
import type { Flow } from "./flow.ts";
import { rule } from "./style.ts";
import { type Column, startTable } from "./table.ts";

export function writeSeats(flow: Flow, plan: Plan): void {
	// The cross is set to a fifth of a millimetre: no sixteenths here.
	const units = finely(plan.sheet.units);
	const sets = shownSets(plan);
	for (const [i, set] of sets.entries()) {
		const own = plan.points.filter((p) => p.set === i);
		const worst = own.reduce<(typeof own)[number] | null>((w, p) => (w && w.error_mm >= p.error_mm ? w : p), null);
		const at = worst ? ` (number ${worst.number})` : "";
		const when = set.link ? "once its link is read" : "the first job";
		flow.heading(sets.length > 1 ? `Seats of set ${set.name}: ${when}` : `Seats: ${when}`, 40);
		flow.paragraph(plan.transfer === "straightedge" ? EDGE_WORDS : SEAT_WORDS);
		flow.gap(1);
		const [ab, bc, ca] = set.sides_mm.map((s) => lengthText(s, units));
		flow.paragraph(
			`AB ${ab} · BC ${bc} · CA ${ca}: check each to ${lengthText(0.2, units, 2)} before the first hole.`,
			{
				size: 3.5,
				bold: true,
				colour: "#23262a",
			},
		);
		const { benchScale } = plan.model;
		if (benchScale !== 1) {
			const [a, b, c] = set.sides_mm.map((s) => lengthText(s / benchScale, units));
			flow.paragraph(
				`These are lengths on the stone. On the bench model, ${benchScale} times smaller, AB ${a} · BC ${b} · CA ${c} between the tops of the studs, each stud ${benchScale} times lower than its boss.`,
			);
		}
		flow.paragraph(
			`If each seat is ${lengthText(plan.seatError_mm, units, 2)} out, a target is ${lengthText(worst?.error_mm ?? set.worstError_mm, units, 2)} out at worst${at}.`,
		);
		flow.gap(1);
		const columns: Column[] = [
			{ head: ["seat"], width: 16, align: "middle", bold: true },
			{ head: ["face"], width: 24, align: "left" },
			{ head: ["u", unitWord(units)], width: 22, align: "right" },
			{ head: ["v", unitWord(units)], width: 22, align: "right" },
			{ head: ["lean", "u °"], width: 18, align: "right" },
			{ head: ["lean", "v °"], width: 18, align: "right" },
			{ head: ["depth", unitWord(units)], width: 22, align: "right", bold: true },
			{ head: ["done"], width: 16, align: "middle" },
			{ head: ["note"], width: 0, align: "left" },
		];
		const table = startTable(flow, { columns, rowHeight: 7, together: 3 });
		for (const d of set.datums)
			table.row([
				d.name,
				d.face,
				lengthNumber(d.u_mm, units),
				lengthNumber(d.v_mm, units),
				d.lean_deg[0].toFixed(1),
				d.lean_deg[1].toFixed(1),
				lengthNumber(d.depth_mm, units),
				(on, x, y) => rect(on, x - 1.7, y - 1.7, 3.4, 3.4, { pen: rule }),
				d.stud_mm > 0 ? `boss ${lengthText(d.stud_mm, units, 0)}` : "",
			]);
		table.end();
		if (set.measured)
			flow.paragraph(
				"Measured after setting: these are the seats as they were found, and every depth is worked out from them.",
			);
		if (set.link) writeLink(flow, plan, set.link);
	}
	writeProofMarks(flow, plan);
	faceSketches(flow, plan);
}

/** The points by which a set hangs on an earlier one: to be sunk while the earlier seats still stand. */
function writeLink(flow: Flow, plan: Plan, link: NonNullable<Plan["datumSets"][number]["link"]>): void {
	const units = finely(plan.sheet.units);
	flow.gap(1);
	flow.paragraph(
		`Linked to set ${plan.datumSets[link.to].name}: sink these points from there and read them from both, before its seats are cut away. Stone, from the left, front and bed faces:`,
	);
	const at = (v: readonly number[]): string => v.map((mm) => lengthNumber(mm, units)).join(" · ");
	link.points.forEach((point, i) => {
		flow.paragraph(`L${i + 1}: ${at(point.stone_mm)} ${unitWord(units)}`);
	});
}

/** Places that are only read, at the start and end of a day. */
function writeProofMarks(flow: Flow, plan: Plan): void {
	const { units } = plan.sheet;
	if (plan.proofMarks.length === 0) return;
	flow.heading("Proof marks: read at the start and end of every day", 30);
	flow.paragraph(PROOF_WORDS);
	flow.gap(1);
	const columns: Column[] = [
		{ head: ["mark"], width: 16, align: "middle", bold: true },
		{ head: ["face"], width: 24, align: "left" },
		{ head: ["u", unitWord(units)], width: 22, align: "right" },
		{ head: ["v", unitWord(units)], width: 22, align: "right" },
		{ head: ["stone", unitWord(units)], width: 22, align: "right" },
		{ head: ["reads"], width: 0, align: "left" },
	];
	const table = startTable(flow, { columns, rowHeight: 7, together: 3 });
	const length = (mm: number | null): string => (mm === null ? "–" : lengthNumber(mm, units));
	for (const mark of plan.proofMarks)
		table.row([
			mark.name,
			mark.face ?? "no face sees it",
			length(mark.u_mm),
			length(mark.v_mm),
			length(mark.waste_mm),
			"",
		]);
	table.end();
}
