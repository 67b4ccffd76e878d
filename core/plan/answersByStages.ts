/** Every answer to a scan and a commission, each told as soon as it stands: whether it fits long before the first point. */

import type { Job } from "../job.ts";
import { type Issue, Refusal } from "../refusal.ts";
import { convexHull } from "../stone/hull.ts";
import { lacksOf } from "../stone/lacks.ts";
import type { Answers, OpenedScan } from "./answers.ts";
import { assemblePlan } from "./assemblePlan.ts";
import { type Commission, newCommission } from "./commission.ts";
import { choice, type Graph, NotStanding } from "./graph.ts";
import { withFinish } from "./parts/planFinish.ts";
import { asCut, cutsStage } from "./stages/cutStages.ts";
import { datumStage, flatPlacesStage, seatErrorStage, seatedStage } from "./stages/datumStages.ts";
import { finishStages } from "./stages/finishStages.ts";
import { natureStage } from "./stages/flawStages.ts";
import { lieStage } from "./stages/lieStage.ts";
import { castStage, modelStage, restingStage } from "./stages/modelStages.ts";
import { drillingStages, lineSearchStage, roundsStage } from "./stages/pointingStages.ts";
import { sizesStage, stoneStages } from "./stages/stoneStages.ts";
import { stoneIndexStage, surfaceStages } from "./stages/surfaceStages.ts";
import { checkCarriedOver } from "./transfer.ts";

export type AnswerName = Exclude<keyof Answers, "waits">;
type Page = Answers["waits"][number]["page"];

/** One answer that stands. */
export type Answer = { [N in AnswerName]: Told & { readonly name: N; readonly value: Answers[N] } }[AnswerName];
interface Told {
	/** The page that it is read on, and why something of that page is missing, as far as is known by now. */
	readonly page: Page;
	readonly waits: readonly Issue[];
}

export interface Asked {
	readonly scan: OpenedScan;
	readonly commission: Commission;
	readonly stoneScan: OpenedScan | null;
}

/** What is done at the bench and after the last point moves no point, and so changes neither the map nor its code. */
function forThePoints(commission: Commission): Commission {
	const { finish, fixing, quote, workday } = NO_WISHES;
	return { ...commission, log: [], finish, fixing, quote, workday };
}
const NO_WISHES = newCommission("-");

/** In the order in which they are wanted, each with the page that it is read on. */
const PAGE_OF: Readonly<Record<AnswerName, Page>> = {
	model: "model",
	cast: "model",
	resting: "model",
	stone: "stone",
	sizes: "stone",
	index: "model",
	field: "model",
	nature: "stone",
	datumSets: "points",
	seatError: "points",
	cuts: "stone",
	rounds: "points",
	finish: "points",
	plan: "points",
};

/** Over a graph that is only looked at, what does not stand is neither told nor part of the result. */
export function* answersByStages(graph: Graph, asked: Asked, told: (answer: Answer) => void): Job<Answers> {
	const waits: { page: Page; issue: Issue }[] = [];
	const answers: Record<string, unknown> = { ...NOTHING };
	const jobs = answerJobs(graph, asked, (page, issue) => waits.push({ page, issue }));
	for (const [name, page] of Object.entries(PAGE_OF) as [AnswerName, Page][]) {
		try {
			const value = yield* jobs[name]();
			answers[name] = value;
			const issues = waits.flatMap((wait) => (wait.page === page ? [wait.issue] : []));
			told({ name, value, page, waits: issues } as Answer);
		} catch (error) {
			if (!(error instanceof NotStanding)) throw error;
		}
	}
	return { ...(answers as unknown as Omit<Answers, "waits">), waits };
}

type Part<T> = () => Job<T | null>;

/** What all of the parts have, or null where one has nothing. */
function* all<T extends readonly unknown[]>(...parts: { [K in keyof T]: Part<T[K]> }): Job<T | null> {
	const found: unknown[] = [];
	for (const part of parts) found.push(yield* part());
	return found.includes(null) ? null : (found as unknown as T);
}

/**
 * Each answer is worked out from parts, and a part when it is first asked for. A refused one is noted for its page and has
 * no value, so that only what depends on it is missing.
 */
function answerJobs(
	graph: Graph,
	{ scan, commission: whole, stoneScan }: Asked,
	refused: (page: Page, issue: Issue) => void,
): { readonly [N in AnswerName]: () => Job<Answers[N]> } {
	const commission = forThePoints(whole);

	function part<T>(page: Page, work: Part<T>): Part<T> {
		let known: { readonly value: T | null } | null = null;
		return function* () {
			try {
				known ??= { value: yield* work() };
			} catch (error) {
				if (!(error instanceof Refusal)) throw error;
				refused(page, error.issue);
				known = { value: null };
			}
			return known.value;
		};
	}

	const model = part("model", () => modelStage(graph, scan, commission));
	const carried = part("model", function* () {
		checkCarriedOver(commission);
		return null;
	});
	const hull = part("stone", function* () {
		const on = yield* model();
		return on && (yield* graph.stage("hull", [on.mesh], () => convexHull(on.mesh.positions)));
	});
	const placed = part("stone", function* () {
		const from = yield* all(model, hull);
		return from && (yield* stoneStages(graph, ...from, commission, stoneScan));
	});
	const surface = part("model", function* () {
		const on = yield* model();
		return on && (yield* surfaceStages(graph, on, commission));
	});
	const lies = part("points", function* () {
		const from = yield* all(model, surface, placed);
		if (!from) return null;
		const { fit } = from[2];
		if (!fit.fits) throw new Refusal("plan.doesNotFit", { lacks: lacksOf(fit), turning: commission.stone.turning });
		return yield* lieStage(graph, ...from, commission);
	});
	const datumSets = part("points", function* () {
		const from = yield* all(model, surface, placed, lies);
		if (!from) return null;
		const [on, skin, stone, chosen] = from;
		return yield* datumStage(graph, on, skin, stone, chosen.lies, commission);
	});
	const seated = part("points", function* () {
		const [stone, sets] = [yield* placed(), yield* datumSets()];
		return stone && sets ? yield* seatedStage(graph, stone, sets) : stone;
	});
	/** With the figure where its seats were measured. */
	const stone = function* () {
		const stands = yield* placed();
		const isMeasured = stands?.fit.fits === true && commission.datumSets.some((set) => set.measured_mm);
		return isMeasured ? ((yield* seated()) ?? stands) : stands;
	};
	const nature = part("stone", function* () {
		const from = yield* all(model, stone);
		const index = (yield* surface())?.index ?? null;
		return from && (yield* natureStage(graph, from[0], index, from[1], commission));
	});
	const cuts = part("stone", function* () {
		const from = yield* all(surface, stone, lies);
		if (!from) return null;
		const [skin, stands, chosen] = from;
		return yield* cutsStage(graph, skin, stands, chosen.lies, yield* datumSets(), commission);
	});
	const lines = part("points", function* () {
		const from = yield* all(model, surface, seated, lies);
		if (!from) return null;
		const [on, skin, stands, chosen] = from;
		return yield* lineSearchStage(graph, on, skin, asCut(stands, yield* cuts()), chosen.lies, commission);
	});
	const spread = part("points", function* () {
		const from = yield* all(model, surface, lines);
		return from && (yield* roundsStage(graph, ...from, commission));
	});
	const drilled = part("points", function* () {
		const from = yield* all(model, surface, lines, spread, stone, datumSets);
		return from && (yield* drillingStages(graph, ...from, commission));
	});
	/** The plan but for what comes after its last point. */
	const mapped = part("points", function* () {
		const from = yield* all(model, surface, stone, nature, datumSets, lies, lines, drilled);
		if (!from) return null;
		checkCarriedOver(commission);
		const [on, skin, stands, kind, sets, chosen, along, points] = from;
		const sawn = yield* cuts();
		const parts = {
			...{ scan, commission, model: on, stone: stands, nature: kind, datumSets: sets, cuts: sawn, lies: chosen },
			...{ index: skin.index, stoneIndex: yield* stoneIndexStage(graph, stands) },
			...{ flatPlaces: yield* flatPlacesStage(graph, on, skin), ...points },
		};
		return yield* graph.stage(
			"plan",
			[scan, on, stands, kind, sets, sawn, chosen, along, points, choice(commission)],
			() => assemblePlan(parts),
		);
	});
	const finish = part("points", function* () {
		const from = yield* all(model, surface, stone);
		return from && (yield* finishStages(graph, ...from, yield* mapped(), whole));
	});

	return {
		*model() {
			const on = yield* model();
			if (on) yield* carried();
			return on;
		},
		*cast() {
			return (yield* model()) && (yield* castStage(graph, commission));
		},
		resting: part("stone", function* () {
			const from = yield* all(model, hull);
			return from && (yield* restingStage(graph, ...from));
		}),
		stone,
		sizes: part("stone", function* () {
			const stands = yield* placed();
			return stands && (yield* sizesStage(graph, stands, commission));
		}),
		*index() {
			return (yield* surface())?.index ?? null;
		},
		*field() {
			return (yield* surface())?.field ?? null;
		},
		nature,
		*datumSets() {
			return (yield* datumSets()) ?? NONE;
		},
		seatError: part("points", function* () {
			const from = yield* all(model, surface, datumSets);
			return from && (yield* seatErrorStage(graph, ...from, commission));
		}),
		cuts,
		*rounds() {
			return (yield* drilled())?.ground.rounds ?? NONE;
		},
		finish,
		*plan() {
			const [map, after] = [yield* mapped(), yield* finish()];
			if (!map || !after) return map;
			return yield* graph.stage("finished plan", [map, after], function* () {
				return withFinish(map, after);
			});
		},
	};
}

const NONE: readonly never[] = [];
const NOTHING: Omit<Answers, "waits"> = {
	model: null,
	resting: null,
	cast: null,
	field: null,
	index: null,
	stone: null,
	cuts: null,
	datumSets: NONE,
	seatError: null,
	rounds: NONE,
	plan: null,
	sizes: null,
	finish: null,
	nature: null,
};
