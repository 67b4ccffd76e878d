/** The quote: hours by stage, stone, consumables, transport; low, likely and high (handbook 13). */

import type { RateKey, Rates } from "./rates.ts";

/** How much of everything there is to do; dm, dm², dm³ because that is what rates are kept in. */
export interface Quantities {
	/** Block, dm³, and its mass, kg low and high. */
	readonly block_dm3: number;
	readonly block_kg: readonly [number, number];
	/** Outside the figure's outline (its hull): can be sawn. */
	readonly sawn_dm3: number;
	/** In the hollows, down to the first join. */
	readonly hollow_dm3: number;
	readonly points: number;
	/** All depths together. */
	readonly drilled_m: number;
	/** Surface times the nets that are joined over it. */
	readonly joined_dm2: number;
	/** Surface times grades, on open ground and on detail. */
	readonly graded_dm2: number;
	readonly detailed_dm2: number;
	readonly gilded_dm2: number;
	readonly leaves: number;
	/** 1 where there is a pin, 0 where there is none. */
	readonly fixed: number;
	readonly bar_m: number;
	readonly resin_l: number;
	readonly base_dm3: number;
	/** Figure and base, kg low and high: what is carried to the client. */
	readonly sent_kg: readonly [number, number];
}

export const STAGES = [
	"intake",
	"setting",
	"roughing out",
	"points",
	"between points",
	"finish",
	"gilding",
	"fixing",
	"delivery",
] as const;
export type StageName = (typeof STAGES)[number];

/** Low, likely, high. */
export type Three = readonly [number, number, number];

/** One product of an amount and a rate. */
export interface HoursLine {
	readonly stage: StageName;
	readonly rate: RateKey;
	readonly amount: number;
	/** Hours, likely. */
	readonly hours: number;
}

export interface MoneyLine {
	readonly words: string;
	readonly rates: readonly RateKey[];
	readonly amount: number;
	readonly unit: string;
	readonly money: Three;
}

export type StoneBy = "volume" | "weight";

export interface Quote {
	readonly hours: readonly HoursLine[];
	readonly stages: readonly { readonly stage: StageName; readonly hours: number }[];
	readonly hoursInAll: Three;
	/** Working days. */
	readonly days: Three;
	readonly lines: readonly MoneyLine[];
	readonly contingency: Three;
	readonly tax: Three;
	readonly total: Three;
}

/** Which rates make the hours of a stage, each with its amount. The log is read by the same table. */
export const STAGE_WORK: Readonly<
	Record<StageName, readonly { readonly rate: RateKey; amount(q: Quantities): number }[]>
> = {
	intake: [{ rate: "intakeHours", amount: () => 1 }],
	setting: [{ rate: "settingHours", amount: () => 1 }],
	"roughing out": [
		{ rate: "sawHours", amount: (q) => q.sawn_dm3 },
		{ rate: "roughHours", amount: (q) => q.hollow_dm3 },
	],
	points: [
		{ rate: "pointHours", amount: (q) => q.points },
		{ rate: "drillHours", amount: (q) => q.drilled_m },
	],
	"between points": [{ rate: "joinHours", amount: (q) => q.joined_dm2 }],
	finish: [
		{ rate: "gradeHours", amount: (q) => q.graded_dm2 },
		{ rate: "detailHours", amount: (q) => q.detailed_dm2 },
	],
	gilding: [{ rate: "gildHours", amount: (q) => q.gilded_dm2 }],
	fixing: [{ rate: "fixHours", amount: (q) => q.fixed }],
	delivery: [{ rate: "deliveryHours", amount: () => 1 }],
};

const DM3_PER_M3 = 1000;
const KG_PER_T = 1000;

/** Everything low together and everything high together: the ends are meant to be wide, not probable. */
export function quoteOf(q: Quantities, rates: Rates, stoneBy: StoneBy): Quote {
	const hours = STAGES.flatMap((stage) =>
		STAGE_WORK[stage].map(({ rate, amount }): HoursLine => {
			const much = amount(q);
			return { stage, rate, amount: much, hours: much * rates[rate] };
		}),
	).filter(({ amount }) => amount > 0);
	const stages = STAGES.map((stage) => ({
		stage,
		hours: hours.filter((line) => line.stage === stage).reduce((sum, line) => sum + line.hours, 0),
	})).filter(({ hours: h }) => h > 0);
	const likely = hours.reduce((sum, line) => sum + line.hours, 0);
	const hoursInAll: Three = [likely * rates.hoursLow, likely, likely * rates.hoursHigh];
	const days = three((i) => hoursInAll[i] / rates.dayHours);
	const lines = moneyLines(q, rates, stoneBy, hoursInAll);
	const net = three((i) => lines.reduce((sum, { money }) => sum + money[i], 0));
	const contingency = three((i) => net[i] * rates.contingency);
	const tax = three((i) => (net[i] + contingency[i]) * rates.tax);
	const total = three((i) => net[i] + contingency[i] + tax[i]);
	return { hours, stages, hoursInAll, days, lines, contingency, tax, total };
}

const three = (at: (i: 0 | 1 | 2) => number): Three => [at(0), at(1), at(2)];

/** Low, likely and high of a range. */
const spread = ([low, high]: readonly [number, number]): Three => [low, (low + high) / 2, high];

function moneyLines(q: Quantities, rates: Rates, stoneBy: StoneBy, hours: Three): MoneyLine[] {
	const bought: Three = [rates.priceLow, 1, rates.priceHigh];
	const line = (words: string, unit: string, amount: Three, price: number, ...from: RateKey[]): MoneyLine => ({
		words,
		rates: from,
		amount: amount[1],
		unit,
		money: three((i) => amount[i] * price * bought[i]),
	});
	const same = (amount: number): Three => [amount, amount, amount];
	const extra = 1 + rates.stoneWaste;
	const stone =
		stoneBy === "volume"
			? line("stone", "m³", same((q.block_dm3 / DM3_PER_M3) * extra), rates.stonePrice, "stonePrice", "stoneWaste")
			: line(
					"stone",
					"t",
					three((i) => (spread(q.block_kg)[i] / KG_PER_T) * extra),
					rates.stonePrice,
					"stonePrice",
					"stoneWaste",
				);
	const sheets = (q.graded_dm2 + q.detailed_dm2) / rates.sheetArea;
	const all: MoneyLine[] = [
		{
			words: "work",
			rates: ["hourPrice", "overhead"],
			amount: hours[1],
			unit: "h",
			money: three((i) => hours[i] * rates.hourPrice * (1 + rates.overhead)),
		},
		stone,
		line("blades", "dm³", same(q.sawn_dm3), rates.sawPrice, "sawPrice"),
		line("drill bits", "m", same(q.drilled_m), rates.bitPrice, "bitPrice"),
		line("abrasives", "sheets", same(Math.ceil(sheets - 1e-9)), rates.sheetPrice, "sheetPrice", "sheetArea"),
		line("gold leaf", "leaves", same(q.leaves), rates.leafPrice, "leafPrice"),
		line("sealer and size", "dm²", same(q.gilded_dm2), rates.sizePrice, "sizePrice"),
		line("pin", "m", same(q.bar_m), rates.barPrice, "barPrice"),
		line("resin", "l", same(q.resin_l), rates.resinPrice, "resinPrice"),
		line("base", "m³", same(q.base_dm3 / DM3_PER_M3), rates.basePrice, "basePrice"),
		line("transport", "", same(1), rates.transportPrice, "transportPrice"),
		line("transport by weight", "kg", spread(q.sent_kg), rates.transportPerKg, "transportPerKg"),
	];
	return all.filter(({ amount }) => amount > 0);
}
