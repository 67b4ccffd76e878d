/**
 * Every figure that a quote rests on, by name. None has a source: each default is a guess to start from, and is called one
 * on screen and on paper until the carver has set it or the log has shown it. Nothing in a quote is a number without a name
 * in this table.
 */

export interface Assumption {
	/** As it stands on the worksheet. */
	readonly words: string;
	readonly unit: string;
	/** A guess, no source. */
	readonly guess: number;
	readonly least: number;
	readonly most: number;
}

const of = (words: string, unit: string, guess: number, most: number, least = 0): Assumption => ({
	words,
	unit,
	guess,
	least,
	most,
});

export const RATES = {
	// Hours by stage.
	intakeHours: of("taking in, sizing and planning", "h", 3, 200),
	settingHours: of("setting the stone, seats and proof marks", "h", 4, 200),
	sawHours: of("sawing away what lies outside the figure's outline", "h/dm³", 0.12, 50),
	roughHours: of("chiselling out the hollows down to the first join", "h/dm³", 1, 100),
	pointHours: of("marking and setting one point", "h each", 0.1, 10),
	drillHours: of("drilling", "h/m", 0.5, 50),
	joinHours: of("joining between points, for each net", "h/dm²", 0.3, 50),
	gradeHours: of("one grade on open ground", "h/dm²", 0.1, 50),
	detailHours: of("one grade on detail, folded in by hand", "h/dm²", 0.4, 50),
	gildHours: of("sealing, sizing and gilding", "h/dm²", 0.7, 50),
	fixHours: of("boring and setting the pin, standing it on its base", "h", 4, 200),
	deliveryHours: of("packing and delivery", "h", 4, 200),
	// Money.
	hourPrice: of("an hour of work", "money/h", 45, 10000),
	overhead: of("workshop, on top of the hours", "share", 0.15, 5),
	stonePrice: of("stone", "money/m³ or t", 2500, 1e6),
	stoneWaste: of("stone bought beyond the block", "share", 0.1, 2),
	sawPrice: of("blades, for what is sawn away", "money/dm³", 0.5, 1000),
	bitPrice: of("drill bits", "money/m", 2, 1000),
	sheetPrice: of("one abrasive sheet or pad's share", "money", 1.5, 1000),
	sheetArea: of("what one sheet lasts for", "dm²", 4, 1000, 0.01),
	leafPrice: of("one leaf of gold", "money", 2, 1000),
	sizePrice: of("sealer and size", "money/dm²", 0.8, 1000),
	barPrice: of("pin bar", "money/m", 20, 10000),
	resinPrice: of("resin", "money/l", 70, 10000),
	basePrice: of("base, sawn", "money/m³", 4000, 1e6),
	transportPrice: of("transport, whatever it weighs", "money", 80, 1e6),
	transportPerKg: of("transport, by weight", "money/kg", 0.3, 1000),
	contingency: of("for what is not foreseen", "share", 0.15, 2),
	tax: of("tax on the offer", "share", 0, 1),
	// How far it may go either way.
	hoursLow: of("hours when all goes well", "× likely", 0.75, 1, 0.1),
	hoursHigh: of("hours when much goes wrong", "× likely", 1.5, 10, 1),
	priceLow: of("prices when bought well", "× likely", 0.9, 1, 0.1),
	priceHigh: of("prices when bought badly", "× likely", 1.25, 10, 1),
	dayHours: of("hours worked in a day", "h", 6, 24, 0.5),
} as const satisfies Record<string, Assumption>;

export type RateKey = keyof typeof RATES;
export type Rates = Readonly<Record<RateKey, number>>;
export const RATE_KEYS = Object.keys(RATES) as readonly RateKey[];

/** What a quick quote assumes about a figure of which only height, stone and detail are known. */
export const QUICK = {
	width: of("width of the block", "share of the height", 0.55, 10, 0.05),
	depth: of("depth of the block", "share of the height", 0.5, 10, 0.05),
	margin: of("stone over the figure on every side", "mm", 25, 500),
	hullShare: of("figure's outline in its box", "share", 0.6, 1, 0.05),
	figureShare: of("figure in its box", "share", 0.4, 1, 0.05),
	surface: of("figure's surface, of the surface of its box", "×", 1, 10, 0.1),
	nets: of("nets of points", "", 3, 12, 1),
	pointsPlain: of("points on plain form, all nets", "per dm²", 1.5, 100),
	pointsUsual: of("points on usual form, all nets", "per dm²", 3, 100),
	pointsFine: of("points on fine form, all nets", "per dm²", 6, 100),
	depthShare: of("mean depth of a hole", "share of the depth of the block", 0.15, 1),
	grades: of("grades of finish", "", 4, 20),
	detailPlain: of("detail on plain form", "share of the surface", 0.05, 1),
	detailUsual: of("detail on usual form", "share of the surface", 0.2, 1),
	detailFine: of("detail on fine form", "share of the surface", 0.45, 1),
} as const satisfies Record<string, Assumption>;

export type QuickKey = keyof typeof QUICK;
export type QuickShape = Readonly<Record<QuickKey, number>>;
export const QUICK_KEYS = Object.keys(QUICK) as readonly QuickKey[];
