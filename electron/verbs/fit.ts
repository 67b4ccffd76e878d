/** `fit SCAN --block|--offcut|--yard`: whether and how the figure fits in a stone, with the proof both ways. */

import { modelFrame } from "../../core/model/modelFrame.ts";
import type { OpenedScan } from "../../core/plan/answers.ts";
import { fitShape } from "../../core/plan/stages/fitShape.ts";
import { Refusal } from "../../core/refusal.ts";
import { UNITS } from "../../core/scan/unit.ts";
import { FIT_TOLERANCE, type FitOptions } from "../../core/stone/fitBlock.ts";
import { largestScaleIn } from "../../core/stone/fitStone.ts";
import { hullWithFoot } from "../../core/stone/holdingFoot.ts";
import { convexHull } from "../../core/stone/hull.ts";
import { dryMass, type MassRange, weighingOf } from "../../core/stone/mass.ts";
import { type LargestScale, smallestBlock } from "../../core/stone/sizes.ts";
import type { Turning } from "../../core/stone/turning.ts";
import { LEAST_OTHERS, leastProof } from "../../core/text/fitWords.ts";
import { massRangeText } from "../../core/text/format.ts";
import { refusalText } from "../../core/text/refusals.ts";
import type { Vec3 } from "../../core/vector.ts";
import { fitAnswer } from "./fitAnswer.ts";
import {
	choiceOption,
	lengthOption,
	numberOption,
	plainOption,
	readOptions,
	SCAN_OPTIONS,
	sidesOption,
	takingOf,
	type Values,
} from "./options.ts";
import { openStone, type StoneSource, stonesOfYard } from "./stoneFiles.ts";
import { settled, takeIn } from "./takeIn.ts";
import type { Found, Row, Shop, Verb } from "./verb.ts";
import { checkYard } from "./yard.ts";

const OPTIONS = {
	...SCAN_OPTIONS,
	block: "text",
	offcut: "text",
	yard: "text",
	margin: "text",
	foot: "text",
	"out-of-true": "text",
	upright: "flag",
	tip: "text",
	tolerance: "text",
	time: "text",
	stone: "text",
	"stone-unit": "text",
} as const;

const AS_SCANNED = [0, 0, 0, 1] as const;
const UP: Vec3 = [0, 0, 1];

/** To a hundredth, and nothing is nothing whichever side of it the rounding fell. */
const hundredths = (mm: number): string => (Math.abs(mm) < 0.005 ? 0 : mm).toFixed(2);

const sidesText = (sides: readonly number[], digits = 1): string =>
	`${sides.map((side) => side.toFixed(digits)).join(" × ")} mm`;

/** null where the margins alone use the stone up. */
async function largestIn(shop: Shop, ...question: Parameters<typeof largestScaleIn>): Promise<LargestScale | null> {
	try {
		return await shop.run(largestScaleIn(...question));
	} catch (error) {
		if (error instanceof Refusal && ["stone.marginsUseUp", "stone.marginsUseUpStone"].includes(error.issue.code))
			return null;
		throw error;
	}
}

/** The one stone, or the yard, that is asked about. */
function askedAbout(values: Values): StoneSource | { readonly kind: "yard"; readonly path: string } {
	const block = sidesOption(values, "block");
	const offcut = plainOption(values, "offcut");
	const yard = plainOption(values, "yard");
	const given = [block && "--block", offcut !== undefined && "--offcut", yard !== undefined && "--yard"].filter(
		Boolean,
	);
	if (given.length > 1) throw new Refusal("command.either", { one: given[0] as string, other: given[1] as string });
	if (block) return { kind: "sides", name: "block", sides: block };
	if (offcut !== undefined) return { kind: "file", path: offcut };
	if (yard !== undefined) return { kind: "yard", path: yard };
	const what = "a block (--block 240x220x460), an offcut (--offcut FILE) or a yard (--yard FOLDER)";
	throw new Refusal("command.missing", { verb: "fit", what });
}

function turningOf(values: Values): Turning {
	const tip = numberOption(values, "tip", { orEqual: true });
	if (values.upright === true && tip !== undefined)
		throw new Refusal("command.either", { one: "--upright", other: "--tip" });
	if (tip !== undefined) return { kind: "free", limits: [{ model: UP, stone: UP, degrees: tip }] };
	return { kind: values.upright === true ? "upright" : "free" };
}

/** The figure as it was asked for, ready to be fitted. */
async function figureOf(scan: OpenedScan, values: Values, shop: Shop) {
	const taking = takingOf(values);
	const { unit, reason, mmPerUnit } = settled(scan, taking);
	const frame = modelFrame(scan.file.mesh, scan.file.origin, {
		mmPerUnit,
		mirrored: taking.mirrored,
		quaternion: AS_SCANNED,
	});
	const hull = await shop.run(convexHull(frame.mesh.positions));
	const foot = lengthOption(values, "foot") ?? 0;
	const held = await shop.run(hullWithFoot(hull, frame.mesh.positions, foot));
	const volume = scan.health.volume === null ? null : Math.abs(scan.health.volume) * mmPerUnit * mmPerUnit * mmPerUnit;
	return {
		volume,
		held,
		mesh: frame.mesh,
		json: {
			file: scan.name,
			unit: { chosen: unit, reason: refusalText(reason) },
			size_mm: [0, 1, 2].map((k) => frame.max[k] - frame.min[k]),
			/** Row-major 4 × 4, scan coordinates → model frame, from which `placement` leads on to the stone. */
			toModel: frame.toModel,
			holdingFoot_mm: foot,
		},
	};
}

export const fit: Verb = async (argv, shop) => {
	const { values, plain } = readOptions("fit", argv, OPTIONS, { what: "a scan" });
	const asked = askedAbout(values);
	const tolerance = numberOption(values, "tolerance") ?? FIT_TOLERANCE;
	const margin = lengthOption(values, "margin") ?? 0;
	const off = (lengthOption(values, "out-of-true") ?? 0) / 2;
	const m = margin + off;
	const options: FitOptions = {
		turning: turningOf(values),
		margins: { bed: m, top: m, front: m, back: m, left: m, right: m },
		otherMargin: m,
		tolerance,
	};
	const weighing = weighingOf(plainOption(values, "stone") ?? "marble");
	const unit = choiceOption(values, "stone-unit", UNITS);
	const seconds = numberOption(values, "time");
	const time = seconds === undefined ? null : 1000 * seconds;
	const sources = asked.kind === "yard" ? stonesOfYard(asked.path) : [];

	const scan = await takeIn(plain[0], shop);
	const figure = await figureOf(scan, values, shop);
	const json = {
		...figure.json,
		margin_mm: margin,
		outOfTrue_mm: 2 * off,
		turning: options.turning?.kind ?? "free",
	};
	const lying =
		values.tip === undefined ? LYING[json.turning] : `tipped by ${values.tip}° at most, turned about the vertical`;
	const masses = (volume: number) => ({
		stone_kg: dryMass(volume, weighing),
		figure_kg: figure.volume === null ? null : dryMass(figure.volume, weighing),
		wasteShare: figure.volume === null ? null : 1 - figure.volume / volume,
	});
	if (asked.kind === "yard") {
		const given = { figure: figure.mesh, hull: figure.held, options, unit, time };
		const stones = await checkYard(sources, given, shop.report, shop.stop);
		return yardFound(
			json,
			lying,
			stones.map((stone) => ({ ...stone, masses: stone.answer && masses(stone.answer.stone_mm3) })),
		);
	}
	const stone = await shop.run(openStone(asked, unit));
	const until = time === null ? null : performance.now() + time;
	const enough = until === null ? undefined : () => performance.now() > until;
	const found = await shop.run(fitShape(figure.mesh, figure.held, stone.shape, { ...options, enough }));
	const sizes = { turning: options.turning, margins: options.margins, otherMargin: options.otherMargin };
	const smallest = await shop.run(smallestBlock(figure.held, sizes));
	// In a stone with hollows the polyhedron around it answers, and so only as a bound.
	const largest = await largestIn(shop, figure.held, stone.shape.stone, sizes);
	const hollow = stone.shape.scanned !== null && !found.certified;
	const answer = fitAnswer(stone, found);
	const weights = masses(answer.stone_mm3);
	const { name, ...told } = answer;
	const proof = found.certified
		? "proved"
		: `${hollow ? "searched" : "not proved"}; at best ${hundredths(found.clearanceBound)} mm`;
	const rows: Row[] = [
		["scan", `${scan.name}, ${sidesText(json.size_mm)}`],
		[
			"stone",
			`${answer.block_mm ? sidesText(answer.block_mm) : `${name}, ${answer.perFace.length} faces`}, ${massRangeText(...weights.stone_kg)} dry`,
		],
		["lying", lying],
		["fits", found.fits ? "yes" : "no"],
		[
			"to spare",
			`${hundredths(found.spare)} mm over the margin of ${m.toFixed(1)} mm${margin > 0 ? "" : ": the figure may touch the skin"}`,
		],
		["least gap", `${hundredths(found.clearance)} mm, ${proof}${off > 0 ? ", for the sizes given" : ""}`],
		...found.gaps.map(({ face, gap }): Row => [`  to ${face}`, `${(Math.abs(gap) < 0.05 ? 0 : gap).toFixed(1)} mm`]),
		[
			"largest size",
			!largest
				? "none: the margins use the stone up"
				: hollow
					? `at most ${largest.bound.toFixed(4)} times as large`
					: `${largest.scale.toFixed(4)} times as large`,
		],
		[
			"least volume",
			`${sidesText(smallest.sides)}, ${leastProof(smallest.certified)}; sawn ${sidesText(smallest.sawn as Vec3, 0)}`,
		],
		["", LEAST_OTHERS],
		["figure", weights.figure_kg ? `${massRangeText(...weights.figure_kg)} dry` : "no mass, the surface is open"],
		["waste", wasteText(weights.wasteShare)],
	];
	return {
		json: {
			...json,
			stone: asked.kind === "file" ? { file: name, unit: stone.unit, volume_mm3: answer.stone_mm3 } : null,
			...told,
			largestScale: hollow ? null : (largest?.scale ?? null),
			largestScaleBound: largest?.bound ?? null,
			smallestBlock_mm: smallest.sides,
			smallestBlockBound_mm3: smallest.bound,
			smallestBlockCertified: smallest.certified,
			sawnBlock_mm: smallest.sawn,
			...weights,
		},
		rows,
	};
};

const LYING: Readonly<Record<Turning["kind"], string>> = {
	fixed: "as it stands",
	upright: "upright, turned about the vertical, as plan has it; without --upright every way round is tried",
	free: "turned any way round; --upright keeps it upright, as plan does",
};

const wasteText = (share: number | null): string =>
	share === null ? "not known, the surface is open" : `${(100 * share).toFixed(0)} %`;

interface YardRow {
	readonly name: string;
	readonly answer: ReturnType<typeof fitAnswer> | null;
	readonly reason: string;
	readonly masses: {
		readonly stone_kg: MassRange;
		readonly figure_kg: MassRange | null;
		readonly wasteShare: number | null;
	} | null;
}

function yardFound(json: object, lying: string, stones: readonly YardRow[]): Found {
	const best = stones[0]?.answer?.fits ? stones[0] : null;
	return {
		json: {
			...json,
			fits: best !== null,
			best: best?.name ?? null,
			stones: stones.map(({ name, answer, reason, masses }) =>
				answer ? { ...answer, ...masses } : { name, fits: null, reason },
			),
		},
		rows: [
			["lying", lying],
			...stones.map(({ name, answer, reason, masses }): Row => {
				if (!answer) return [name, reason];
				const proof = answer.certified ? "proved" : answer.searched ? "searched" : "not proved";
				const words = answer.fits
					? `fits, ${answer.spare_mm.toFixed(1)} mm to spare`
					: `does not fit, ${(-answer.spare_mm).toFixed(1)} mm short`;
				return [name, `${words}, ${proof}, waste ${wasteText(masses?.wasteShare ?? null)}`];
			}),
		],
	};
}
