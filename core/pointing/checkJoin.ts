/** The check of a round on the scan itself: facets, cover, and points added at the worst places (handbook 6). */

import { type Job, within } from "../job.ts";
import {
	buildFacets,
	type Cover,
	type Facets,
	HELD,
	measureCover,
	NOT_MEASURED,
	ON_UNDERCUT,
	PAST_BORDER,
} from "./facets.ts";
import { Front } from "./front.ts";
import type { Ground, RoundRequest, Surface, SurfacePoint } from "./ground.ts";
import { Neighbourhood } from "./patch.ts";
import { plannedCover } from "./spacing.ts";

const STAGE = "checking the cover of the join";
/** mm under the planned cover that still counts as kept: rounding of the covers' 32 bits. */
const COVER_SLACK = 1e-4;
/** Every pass adds at least one point, or gives up at least one place, so this is never the reason to stop on real ground. */
const MOST_PASSES = 400;

/** What the sizing field says of every vertex of the mesh. */
export interface VertexSpacing {
	/** mm */
	readonly spacing: Float32Array;
	/** 1 where the least spacing, or the carver's brush, wins over the cover limit. */
	readonly clamped: Uint8Array;
	/** mm that added points keep from others. */
	readonly leastGap: number;
}

export interface JoinCheck {
	/** Vertices of the points added. */
	readonly added: readonly number[];
	readonly cover: Float32Array;
	/** 1 where the limit is not kept because the clamp wins. */
	readonly byEye: Uint8Array;
	readonly unreached: Uint8Array;
	/** Index into `WHY_NOT` of every vertex. */
	readonly reason: Uint8Array;
}

const BY_EYE = 1;
const UNDERCUT = 2;
const NO_ROOM = 3;
const RIM = 4;
const LEFT_ROUGH = 5;

/**
 * Joins `points`, raised by j, and adds points until every vertex keeps the planned cover that is not by eye and can be
 * reached; with `count`, adds at the worst place until the round has that many.
 */
export function* checkJoin(
	ground: Ground,
	surface: Surface,
	request: RoundRequest,
	sizing: VertexSpacing,
	points: readonly SurfacePoint[],
	earlier: number,
	canReach: (v: number, round: number) => boolean,
): Job<JoinCheck> {
	const join = new Join(ground, surface, request.join, points);
	yield* within(join.start(), 0, 0.2);
	const planned = plannedCover(request);
	const added: number[] = [];
	const around = new Neighbourhood(surface);
	const noReach = new Uint8Array(join.front.label.length);
	const room = request.count === null ? Number.POSITIVE_INFINITY : request.count - (points.length - earlier);
	let share = 0.2;
	for (let pass = 0; pass < MOST_PASSES; pass++) {
		share += (0.95 - share) * 0.2;
		yield* within(join.measure(), share, share);
		if (added.length >= room) break;
		const worst = worstPlaces(surface, request, sizing, join, planned, noReach);
		let changed = false;
		const busy = new Uint8Array(join.seeds);
		for (const { vertex, seed } of worst) {
			if (added.length >= room) break;
			if (busy[seed]) continue;
			changed = true;
			if (!canReach(vertex, request.round)) {
				around.gather(vertex, sizing.leastGap);
				for (let i = 0; i < around.count; i++) noReach[around.found[i]] = 1;
				continue;
			}
			// Ground that this pass has already changed is measured again before another point is spent on it.
			busy[seed] = 1;
			for (const n of join.facets.neighbours[seed]) busy[n] = 1;
			join.add(vertex);
			added.push(vertex);
		}
		if (!changed) break;
		yield { stage: STAGE, share };
	}
	const { reason, unreached, byEye } = reasons(surface, sizing, join, planned, noReach);
	return { added, cover: join.cover.cover, byEye, unreached, reason };
}

/** Points, their cells, the facets between them and the cover that these leave; kept up to date as points are added. */
class Join {
	readonly front: Front;
	readonly cover: Cover;
	readonly seedVertex: number[];
	readonly reachable: boolean[];
	facets: Facets;
	/** Seeds among which `facets` stand. */
	seeds = 0;
	private readonly raised: number[] = [];
	private readonly ground: Ground;
	private readonly surface: Surface;
	private readonly join: number;
	private signatures: string[] = [];

	constructor(ground: Ground, surface: Surface, join: number, points: readonly SurfacePoint[]) {
		const vertices = surface.carries.length;
		this.ground = ground;
		this.surface = surface;
		this.join = join;
		this.front = new Front(surface.mesh, surface.adjacency, new Float32Array(vertices).fill(1));
		this.cover = {
			cover: new Float32Array(vertices).fill(Number.NaN),
			state: new Uint8Array(vertices).fill(NOT_MEASURED),
		};
		this.seedVertex = points.map((p) => p.vertex);
		this.reachable = points.map((p) => p.reachable);
		for (const { position, normal } of points)
			for (let c = 0; c < 3; c++) this.raised.push(position[c] + join * normal[c]);
		this.facets = buildFacets(surface, this.front.label, 0, new Float64Array(0));
	}

	*start(): Job<void> {
		this.seedVertex.forEach((v, i) => {
			this.front.seed(v, 0, i);
		});
		yield* this.front.spread(STAGE, 0);
	}

	add(v: number): void {
		const p = this.ground.mesh.positions;
		const n = this.ground.field.normals;
		for (let c = 0; c < 3; c++) this.raised.push(p[3 * v + c] + this.join * n[3 * v + c]);
		this.front.seed(v, 0, this.seedVertex.length);
		this.seedVertex.push(v);
		this.reachable.push(true);
		this.front.spreadAtOnce();
	}

	/** Facets and cover anew wherever the points around have changed. */
	*measure(): Job<void> {
		this.seeds = this.seedVertex.length;
		const raised = Float64Array.from(this.raised);
		this.facets = buildFacets(this.surface, this.front.label, this.seeds, raised);
		const { corners, neighbours } = this.facets;
		const signatures = new Array<string>(this.seeds).fill("");
		for (let f = 0; f < corners.length; f += 3) {
			const key = `${corners[f]} ${corners[f + 1]} ${corners[f + 2]},`;
			signatures[corners[f]] += key;
			signatures[corners[f + 1]] += key;
			signatures[corners[f + 2]] += key;
		}
		// A vertex is measured against its seed's facets and those of the seed's neighbours.
		const changed = signatures.map((signature, s) => signature !== this.signatures[s]);
		const dirty = new Uint8Array(this.seeds);
		for (let s = 0; s < this.seeds; s++) if (changed[s] || neighbours[s].some((n) => changed[n])) dirty[s] = 1;
		this.signatures = signatures;
		yield* measureCover(
			this.surface,
			this.ground.field.normals,
			this.front.label,
			this.facets,
			raised,
			this.reachable,
			dirty,
			this.cover,
			STAGE,
		);
	}
}

/** The worst place with room in each cell that still falls short, from the worst of all down; ties by vertex. */
function worstPlaces(
	surface: Surface,
	request: RoundRequest,
	sizing: VertexSpacing,
	join: Join,
	planned: number,
	noReach: Uint8Array,
): { vertex: number; seed: number }[] {
	const { label, cost } = join.front;
	const { cover, state } = join.cover;
	const worst = new Float64Array(join.seeds);
	const at = new Int32Array(join.seeds).fill(-1);
	for (let v = 0; v < label.length; v++) {
		const s = label[v];
		if (s < 0 || !surface.carries[v] || sizing.clamped[v] || noReach[v] || cost[v] < sizing.leastGap) continue;
		let short = planned - COVER_SLACK - cover[v];
		// With a number to spend there is no limit: any sag may be the worst one left.
		if (request.count !== null) short = request.join - cover[v];
		if (state[v] === PAST_BORDER) short = cost[v] > sizing.spacing[v] ? cost[v] : 0;
		if (short > worst[s]) {
			worst[s] = short;
			at[s] = v;
		}
	}
	const list: { vertex: number; seed: number }[] = [];
	for (let s = 0; s < join.seeds; s++) if (at[s] >= 0) list.push({ vertex: at[s], seed: s });
	return list.sort((a, b) => worst[b.seed] - worst[a.seed] || a.vertex - b.vertex);
}

function reasons(
	surface: Surface,
	sizing: VertexSpacing,
	join: Join,
	planned: number,
	noReach: Uint8Array,
): { reason: Uint8Array; unreached: Uint8Array; byEye: Uint8Array } {
	const { label } = join.front;
	const { cover, state } = join.cover;
	const reason = new Uint8Array(label.length);
	const unreached = new Uint8Array(label.length);
	const byEye = new Uint8Array(label.length);
	for (let v = 0; v < label.length; v++) {
		const s = label[v];
		if (!surface.carries[v] || s < 0) {
			reason[v] = LEFT_ROUGH;
			continue;
		}
		const short = !(cover[v] >= planned - COVER_SLACK);
		if (!join.reachable[s] || state[v] === ON_UNDERCUT || (noReach[v] && short)) unreached[v] = 1;
		// The clamp has won only where the limit is broken for it: a low form may keep its cover at the least spacing.
		if (sizing.clamped[v] && short) byEye[v] = 1;
		if (byEye[v]) reason[v] = BY_EYE;
		else if (unreached[v]) reason[v] = UNDERCUT;
		else if (state[v] !== HELD) reason[v] = RIM;
		else if (short) reason[v] = NO_ROOM;
	}
	return { reason, unreached, byEye };
}
