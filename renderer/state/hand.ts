/** Moving the figure in the stone by hand: a placement in hand, its live gaps, snapping to the best, letting it settle. */

import { effect, signal } from "@preact/signals";
import { type Quaternion, quaternionOf, turnedOn } from "../../core/stone/turning.ts";
import {
	add,
	distance,
	dot,
	type Placement,
	place,
	rotationFromQuaternion,
	sub,
	turn,
	type Vec3,
} from "../../core/vector.ts";
import type { Session } from "./session.ts";
import { page } from "./ui.ts";

export interface InHand {
	readonly quaternion: Quaternion;
	readonly translation: Vec3;
	/** It lies where most is to spare. */
	readonly snapped: boolean;
}

export interface GapInHand {
	readonly face: string;
	readonly gap: number;
	readonly margin: number;
	readonly touchingInStone: Vec3;
}

/** null: nothing is held. */
export const inHand = signal<InHand | null>(null);

// What is held is put down with the page.
effect(() => {
	if (page.value !== "stone") inHand.value = null;
});

/** Nearer than this to the best placement it falls into it: mm, and the same at the figure's ends. */
const SNAP_MM = 2;

const placementOf = ({ quaternion, translation }: InHand): Placement => ({
	rotation: rotationFromQuaternion(quaternion),
	translation,
});

export function placementInHand(session: Session): Placement | null {
	return inHand.value && session.answers.value?.stone ? placementOf(inHand.value) : null;
}

export function takeInHand(session: Session): void {
	const fit = session.answers.value?.stone?.fit;
	if (!fit) return;
	const { rotation, translation } = fit.placement;
	inHand.value = { quaternion: quaternionOf(rotation), translation, snapped: false };
}

/** What is left at every face as the figure is held; null when it is not. */
export function gapsInHand(session: Session): GapInHand[] | null {
	const stone = session.answers.value?.stone;
	const held = inHand.value;
	if (!stone || !held) return null;
	const placement = placementOf(held);
	const { corners, fit } = stone;
	const count = corners.length / 3;
	return stone.stone.faces.map(({ name, normal, offset }, f) => {
		const n = placement.rotation;
		// The face's normal as the figure sees it.
		const d = [0, 1, 2].map((k) => n[k] * normal[0] + n[3 + k] * normal[1] + n[6 + k] * normal[2]);
		let most = -Infinity;
		let at = 0;
		for (let i = 0; i < count; i++) {
			const reach = d[0] * corners[3 * i] + d[1] * corners[3 * i + 1] + d[2] * corners[3 * i + 2];
			if (reach > most) {
				most = reach;
				at = i;
			}
		}
		const touching: Vec3 = [corners[3 * at], corners[3 * at + 1], corners[3 * at + 2]];
		return {
			face: name,
			gap: offset - dot(normal, placement.translation) - most,
			margin: fit.gaps[f]?.margin ?? 0,
			touchingInStone: place(placement, touching),
		};
	});
}

/** Moves what is held by a way in the stone, mm. */
export function moveInHand(session: Session, by: Vec3): void {
	const held = inHand.value;
	if (held && session.answers.value?.stone)
		inHand.value = { ...held, translation: add(held.translation, by), snapped: false };
}

/** A drag is over: near the best placement the figure falls into it. */
export function letGo(session: Session): void {
	if (inHand.value) fallIn(session, inHand.value);
}

/** Turns what is held about its middle, about an axis of the stone (unit), radians. */
export function turnInHand(session: Session, axis: Vec3, angle: number): void {
	const held = inHand.value;
	const stone = session.answers.value?.stone;
	if (!held || !stone) return;
	const middle = middleOf(stone.corners);
	const s = Math.sin(angle / 2);
	const quaternion = turnedOn(held.quaternion, [axis[0] * s, axis[1] * s, axis[2] * s, Math.cos(angle / 2)]);
	const before = add(turn(rotationFromQuaternion(held.quaternion), middle), held.translation);
	const translation = sub(before, turn(rotationFromQuaternion(quaternion), middle));
	inHand.value = { quaternion, translation, snapped: false };
}

function middleOf(corners: Float64Array): Vec3 {
	const min = [Infinity, Infinity, Infinity];
	const max = [-Infinity, -Infinity, -Infinity];
	for (let i = 0; i < corners.length; i++) {
		min[i % 3] = Math.min(min[i % 3], corners[i]);
		max[i % 3] = Math.max(max[i % 3], corners[i]);
	}
	return [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2, (min[2] + max[2]) / 2];
}

/** Holds it so, or in the best placement where that is all but reached. */
function fallIn(session: Session, next: InHand): void {
	const best = session.answers.value?.stone?.best;
	const corners = session.answers.value?.stone?.corners;
	if (best && corners) {
		const there = placementOf(next);
		let off = 0;
		for (let i = 0; i < corners.length; i += 30) {
			const corner: Vec3 = [corners[i], corners[i + 1], corners[i + 2]];
			off = Math.max(off, distance(place(there, corner), place(best.placement, corner)));
		}
		if (off < SNAP_MM) {
			const { rotation, translation } = best.placement;
			inHand.value = { quaternion: quaternionOf(rotation), translation, snapped: true };
			return;
		}
	}
	inHand.value = next;
}

/** Lets what is held find the best place near where it is. */
export async function letItSettle(session: Session): Promise<void> {
	const held = inHand.value;
	if (!held) return;
	const settled = await session.settle(placementOf(held));
	if (settled && inHand.value) fallIn(session, { ...settled, snapped: false });
}

/** Leaves the figure where it is held. */
export function putDown(session: Session): string | null {
	const held = inHand.value;
	if (!held) return null;
	inHand.value = null;
	const byHand = held.snapped
		? null
		: {
				quaternion: [...held.quaternion] as [number, number, number, number],
				translation_mm: [...held.translation] as [number, number, number],
			};
	const what = byHand ? "place the figure by hand" : "place the figure where most is to spare";
	return session.change(what, (c) => ({ ...c, stone: { ...c.stone, byHand } }), { places: true });
}
