/** `points SCAN`: the points alone, in rounds as usual, or in one round by its join or by their number. */

import { roundSchema } from "../../core/plan/commission.ts";
import { Refusal } from "../../core/refusal.ts";
import { numberOption, plainOption, readOptions, SCAN_OPTIONS, takingOf } from "./options.ts";
import { COMMISSION_OPTIONS, commissionFor, planRows, planWhole } from "./planWhole.ts";
import { stoneScanOf } from "./stoneFiles.ts";
import { takeIn } from "./takeIn.ts";
import type { Verb } from "./verb.ts";

/** Stone left between the points when only their number is given, mm: that of the usual first net. */
const USUAL_JOIN = 6;

export const points: Verb = async (argv, shop) => {
	const options = { ...SCAN_OPTIONS, ...COMMISSION_OPTIONS, join: "text", count: "text" } as const;
	const { values, plain } = readOptions("points", argv, options, { what: "a scan" });
	const taking = takingOf(values);
	const join = numberOption(values, "join");
	const count = numberOption(values, "count", { whole: true });
	if (join !== undefined && count !== undefined)
		throw new Refusal("command.either", { one: "--join", other: "--count" });
	const scan = await takeIn(plain[0], shop);
	const base = commissionFor(scan, null, taking, values);
	const alone = join !== undefined || count !== undefined;
	const round = alone && roundSchema.parse({ name: "net", join_mm: join ?? USUAL_JOIN, count: count ?? null });
	const stoneScan = await stoneScanOf(base, plainOption(values, "offcut"), ".", shop);
	const { plan } = await planWhole(scan, round ? { ...base, rounds: [round] } : base, shop, stoneScan);
	const { triangles, area_mm2, size_mm, unit, scale } = plan.model;
	const json = {
		file: scan.name,
		unit,
		scale,
		triangles,
		area_mm2,
		size_mm,
		block_mm: plan.stone.block_mm,
		blockAssumed: plan.stone.blockAssumed,
		rounds: plan.rounds,
		points: plan.points,
	};
	return { json, rows: planRows(plan) };
};
