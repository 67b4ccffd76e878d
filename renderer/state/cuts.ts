/** Cuts and bridges: the carver's own beside the proposed ones. */

import { signal } from "@preact/signals";
import type { CutsAnswer } from "../../core/cuts/planCuts.ts";
import type { Commission } from "../../core/plan/commission.ts";
import { sawOf } from "../../core/plan/stages/cutStages.ts";
import { lengthText } from "../../core/text/format.ts";
import { dot, place, turn, turnBack, unit, type Vec3 } from "../../core/vector.ts";
import type { Place } from "../banker/picker.ts";
import type { DisplayMesh } from "../jobs/displayMesh.ts";
import { tidyPosition } from "./datums.ts";
import type { Session } from "./session.ts";
import { picking } from "./ui.ts";

type Cuts = Commission["cuts"];
type OwnCut = Cuts["own"][number];

/** The cut that is looked at, by its place in the order; null: the stone after all of them. */
export const cutShown = signal<number | null>(null);

/** Places picked for a bridge, and the mesh that they lie on. */
export const bridgeDraft = signal<{ readonly on: DisplayMesh; readonly places: readonly Place[] } | null>(null);

export const changeCuts = (session: Session, words: string, next: Partial<Cuts>, key?: string): string | null =>
	session.change(words, (c) => ({ ...c, cuts: { ...c.cuts, ...next } }), key ? { key } : undefined);

const asOwn = ({ plane }: CutsAnswer["cuts"][number]): OwnCut => ({
	normal: [...plane.normal],
	offset_mm: plane.offset,
	skipped: false,
});

/** The carver's own cuts with the proposed ones up to and with number `until` among them, and where that one stands. */
function frozen(cuts: Cuts, answer: CutsAnswer, until: number): { own: OwnCut[]; count: number; at: number } {
	const proposed = answer.cuts.slice(0, until + 1).filter((cut) => cut.own < 0);
	const own = [...cuts.own, ...proposed.map(asOwn)];
	const shown = answer.cuts[until];
	return { own, count: Math.max(0, cuts.count - proposed.length), at: shown.own >= 0 ? shown.own : own.length - 1 };
}

/** Skips a cut; others are proposed in its place. */
export function skipCut(session: Session, number: number): string | null {
	const answer = session.answers.value?.cuts;
	const commission = session.commission.value;
	if (!answer || !commission) return null;
	const { own, count, at } = frozen(commission.cuts, answer, number);
	const skipped = own.map((cut, i) => (i === at ? { ...cut, skipped: true } : cut));
	const again = answer.cuts[number].own < 0 ? count + 1 : count;
	cutShown.value = null;
	return changeCuts(session, `skip ${answer.cuts[number].name}`, { own: skipped, count: again });
}

/** Puts one of the carver's cuts, proposed until now or not, into another plane. */
export function moveCut(session: Session, number: number, normal: Vec3, spare: number): string | null {
	const answer = session.answers.value?.cuts;
	const commission = session.commission.value;
	if (!answer || !commission) return null;
	const { own, count, at } = frozen(commission.cuts, answer, number);
	const moved = own.map((cut, i) => (i === at ? cutAt(session, commission, normal, spare) : cut));
	return changeCuts(session, `move ${answer.cuts[number].name}`, { own: moved, count }, `move cut ${at}`);
}

export const dropOwn = (session: Session, own: number, words: string): string | null =>
	session.change(words, (c) => ({ ...c, cuts: { ...c.cuts, own: c.cuts.own.filter((_, i) => i !== own) } }));

/** Puts one of the carver's own cuts into another plane. */
export function moveOwn(session: Session, own: number, normal: Vec3, spare: number): string | null {
	const commission = session.commission.value;
	if (!commission) return null;
	const moved = commission.cuts.own.map((cut, i) => (i === own ? cutAt(session, commission, normal, spare) : cut));
	return changeCuts(session, "move a cut of your own", { own: moved }, `move cut ${own}`);
}

/** Moves a cut that came too near out by what it lacked. */
export const moveOut = (session: Session, own: number, by: number): string | null =>
	session.change(`move the cut out by ${lengthText(by, session.units.value)}`, (c) => ({
		...c,
		cuts: { ...c.cuts, own: c.cuts.own.map((cut, i) => (i === own ? { ...cut, offset_mm: cut.offset_mm + by } : cut)) },
	}));

/** A cut by hand that keeps the allowance and `spare` to the figure; bosses and bridges are held against it in the plan. */
export function drawCut(session: Session, normal: Vec3, spare: number): string | null {
	const commission = session.commission.value;
	if (!commission) return null;
	const cut = cutAt(session, commission, normal, spare);
	return changeCuts(session, "draw a cut by hand", { own: [...commission.cuts.own, cut] });
}

/** The same, along a plane of the model that looks out of it; it lies so far out that the whole figure keeps what must stay. */
export function drawCutAlong(session: Session, outward: Vec3): string | null {
	const placement = session.answers.value?.stone?.fit.placement;
	if (!placement) return "The figure has no place in the stone yet.";
	return drawCut(session, turn(placement.rotation, unit(outward)), 0);
}

/** The mesh on screen has 32-bit places: a hair more than its rounding stays over it. */
const ROUNDING = 0.001;

function cutAt(session: Session, commission: Commission, normal: Vec3, spare: number): OwnCut {
	const saw = sawOf(commission);
	const placement = session.answers.value?.stone?.fit.placement;
	const positions = session.mesh.value?.positions ?? [];
	let reach = 0;
	if (placement && positions.length > 0) {
		const d = turnBack(placement.rotation, normal);
		let most = Number.NEGATIVE_INFINITY;
		for (let i = 0; i < positions.length; i += 3) {
			most = Math.max(most, d[0] * positions[i] + d[1] * positions[i + 1] + d[2] * positions[i + 2]);
		}
		reach = most + dot(normal, placement.translation);
	}
	return {
		normal: [...normal],
		offset_mm: reach + saw.allowance + saw.kerf / 2 + spare + ROUNDING,
		skipped: false,
	};
}

/** Which way a cut looks: degrees round from the front by the right, and up from level. */
export const anglesOf = ([x, y, z]: Vec3): { turn: number; rise: number } => {
	const degrees = 180 / Math.PI;
	const turn = Math.atan2(x, -y) * degrees;
	return {
		turn: Math.round(turn * 10) / 10,
		rise: Math.round(Math.asin(Math.max(-1, Math.min(1, z))) * degrees * 10) / 10,
	};
};

export const normalAt = (turn: number, rise: number): Vec3 => {
	const [t, r] = [(turn * Math.PI) / 180, (rise * Math.PI) / 180];
	return [Math.sin(t) * Math.cos(r), -Math.cos(t) * Math.cos(r), Math.sin(r)];
};

export const bridgePlaces = (session: Session): readonly Place[] =>
	bridgeDraft.value && bridgeDraft.value.on === session.mesh.value ? bridgeDraft.value.places : [];

export function takeBridgePlace(session: Session, taken: Place): void {
	const on = session.mesh.value;
	if (!on) return;
	const places = [...bridgePlaces(session).slice(0, 1), taken];
	bridgeDraft.value = { on, places };
	if (places.length === 2) picking.value = null;
}

/** Wide enough to carry, and until the last round but one has gone by (common practice, no source). */
const BRIDGE_RADIUS = 15;

export function addBridge(session: Session): string | null {
	const [a, b] = bridgePlaces(session);
	if (!a || !b) return "Pick two places on the model first.";
	const refused = session.change("add a bridge", (c) => ({
		...c,
		bridges: [
			...c.bridges,
			{
				name: String(c.bridges.length + 1),
				from_mm: tidyPosition(a.position),
				to_mm: tidyPosition(b.position),
				radius_mm: BRIDGE_RADIUS,
				round: Math.max(1, c.rounds.length - 1),
			},
		],
	}));
	if (refused === null) bridgeDraft.value = null;
	return refused;
}

export const changeBridge = (
	session: Session,
	words: string,
	index: number,
	next: Partial<Commission["bridges"][number]> | null,
): string | null =>
	session.change(words, (c) => ({
		...c,
		bridges: c.bridges.flatMap((bridge, i) => (i !== index ? [bridge] : next === null ? [] : [{ ...bridge, ...next }])),
	}));

/** Stone frame. */
export const bridgesPlaced = (session: Session): { from: Vec3; to: Vec3; radius: number }[] => {
	const placement = session.answers.value?.stone?.fit.placement;
	if (!placement) return [];
	return (session.commission.value?.bridges ?? []).map(({ from_mm, to_mm, radius_mm }) => ({
		from: place(placement, from_mm),
		to: place(placement, to_mm),
		radius: radius_mm,
	}));
};
