/** `demo [NAME]`: makes the scan of a seed commission and plans it, into out/NAME. */

import { join } from "node:path";
import { openScan } from "../../core/plan/planner.ts";
import { documentText } from "../../core/plan/readDocument.ts";
import { Refusal } from "../../core/refusal.ts";
import { memorySource } from "../../core/scan/source.ts";
import { demoCommission, demoScan } from "../../seeds/demo.ts";
import { type Seed, seeds } from "../../seeds/index.ts";
import { readOptions } from "./options.ts";
import { writePlan } from "./plan.ts";
import { planWhole } from "./planWhole.ts";
import type { Found, Shop, Verb } from "./verb.ts";

async function planDemo(seed: Seed, shop: Shop): Promise<Found> {
	const bytes = await shop.run(demoScan(seed));
	const scan = await shop.run(openScan(memorySource(bytes), seed.fileName));
	const plain = demoCommission(seed);
	const commission = { ...plain, scan: { ...plain.scan, sha256: scan.sha256 } };
	const planned = await planWhole(scan, commission, shop);
	// With the scan and the commission beside it, everything can be tried again on them.
	const beside = new Map<string, Uint8Array | string>([
		[seed.fileName, bytes],
		[`${seed.name}.commission.json`, documentText(commission)],
	]);
	return writePlan(planned, join("out", seed.name), shop, beside);
}

export const demo: Verb = async (argv, shop) => {
	const { plain } = readOptions("demo", argv, {});
	const wished = seeds.filter((seed) => plain.length === 0 || seed.name === plain[0]);
	if (wished.length === 0) {
		throw new Refusal("command.demo", { found: plain[0], expected: seeds.map((seed) => seed.name) });
	}
	const found: Found[] = [];
	for (const seed of wished) found.push(await planDemo(seed, shop));
	return { json: found.map(({ json }) => json), rows: found.flatMap(({ rows }) => rows) };
};
