/** `plan SCAN --out DIR`: the whole plan with its sheets. */

import { basename, dirname } from "node:path";
import type { Commission } from "../../core/plan/commission.ts";
import { readCommission } from "../../core/plan/readDocument.ts";
import { Refusal } from "../../core/refusal.ts";
import { nodeFiles, refuse } from "../files/fileLayer.ts";
import { plainOption, readOptions, SCAN_OPTIONS, takingOf } from "./options.ts";
import {
	COMMISSION_OPTIONS,
	commissionFor,
	fullSizeFiles,
	isMap,
	isPlanFile,
	type Planned,
	planFiles,
	planRows,
	planWhole,
	sheetsOf,
} from "./planWhole.ts";
import { stoneScanOf } from "./stoneFiles.ts";
import { takeIn } from "./takeIn.ts";
import type { Found, Shop, Verb } from "./verb.ts";
import { type FileSet, writeSet } from "./writeSet.ts";

/** The commission of a file, or null where none is named. */
export async function commissionFrom(path: string | undefined): Promise<Commission | null> {
	if (path === undefined) return null;
	const bytes = await nodeFiles.read(path).catch((error) => refuse(error, path, "read"));
	return readCommission(new TextDecoder().decode(bytes), basename(path));
}

/** Draws the sheets and writes all files; `more` stands beside them. */
export async function writePlan(planned: Planned, out: string, shop: Shop, more: FileSet = new Map()): Promise<Found> {
	const { plan } = planned;
	const sheets = await sheetsOf(planned, shop);
	const files = new Map([...more, ...planFiles(plan, sheets)]);
	await writeSet(nodeFiles, out, files, isPlanFile, shop.stop);
	const json = {
		out,
		files: [...files.keys()],
		pages: sheets.pages,
		name: plan.name,
		code: plan.code,
		points: plan.points.length,
		undercuts: plan.points.filter((point) => point.undercut).length,
		blockAssumed: plan.stone.blockAssumed,
		block_mm: plan.stone.block_mm,
		fits: plan.stone.fits,
		spare_mm: plan.stone.spare_mm,
		rounds: plan.rounds,
		cuts: plan.cuts.map(({ name, removedRange_kg, wasteShare, stands }) => ({
			name,
			removedRange_kg,
			wasteShare,
			stands,
		})),
	};
	const maps = [...files.keys()].filter(isMap).length;
	const named = [...files.keys()].filter((name) => !isMap(name));
	return { json, rows: [...planRows(plan), ["written", `${out}: ${named.join(", ")} and ${maps} maps`]] };
}

export const plan: Verb = async (argv, shop) => {
	const options = {
		...SCAN_OPTIONS,
		...COMMISSION_OPTIONS,
		commission: "text",
		out: "text",
		"full-size": "flag",
	} as const;
	const { values, plain } = readOptions("plan", argv, options, { what: "a scan" });
	const taking = takingOf(values);
	const out = plainOption(values, "out");
	if (out === undefined)
		throw new Refusal("command.missing", { verb: "plan", what: "a folder to write to (--out DIR)" });
	const from = await commissionFrom(plainOption(values, "commission"));
	const scan = await takeIn(plain[0], shop);
	if (from && from.scan.sha256 !== "" && from.scan.sha256 !== scan.sha256) {
		shop.note(`${from.name} was made on another scan than ${scan.name}; places picked there may lie elsewhere here.`);
	}
	const commission = commissionFor(scan, from, taking, values);
	const folder = dirname(plainOption(values, "commission") ?? plain[0]);
	const stoneScan = await stoneScanOf(commission, plainOption(values, "offcut"), folder, shop);
	const planned = await planWhole(scan, commission, shop, stoneScan);
	return writePlan(planned, out, shop, values["full-size"] ? await fullSizeFiles(planned, shop) : undefined);
};
