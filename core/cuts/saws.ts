/** What the stone is sawn with, and how far into a cut it reaches. */

import { cutOutline } from "../stone/faceOutline.ts";
import { cross, dot, scale, sub, unit, type Vec3 } from "../vector.ts";

export const SAWS = ["bridge saw", "wire saw", "hand disc"] as const;
export type SawKind = (typeof SAWS)[number];

/** Lengths in mm. */
export interface Saw {
	readonly kind: SawKind;
	/** Stone that stays over the figure's hull. */
	readonly allowance: number;
	readonly kerf: number;
	/** How deep it saws from one side; Infinity for a wire, which goes through. */
	readonly reach: number;
	/** Diameter of the disc; null for a wire, which makes no stop cuts. */
	readonly disc: number | null;
}

/**
 * Usual values. The allowances are the handbook's. The hand disc's reach of 125 mm for a disc of 350 mm is published in a
 * cut-off saw's manual; its kerf, the bridge saw and the wire are common practice without a source.
 */
export const USUAL_SAWS: Readonly<Record<SawKind, Saw>> = {
	"bridge saw": { kind: "bridge saw", allowance: 15, kerf: 6, reach: 350, disc: 900 },
	"wire saw": { kind: "wire saw", allowance: 15, kerf: 11, reach: Number.POSITIVE_INFINITY, disc: null },
	"hand disc": { kind: "hand disc", allowance: 25, kerf: 4, reach: 125, disc: 350 },
};

/** The saw of the stop cuts: a wire makes none, so that a hand disc takes its place. */
export const stopSaw = (saw: Saw): Saw & { readonly disc: number } =>
	saw.disc === null ? { ...USUAL_SAWS["hand disc"], disc: 350 } : { ...saw, disc: saw.disc };

/** Stone that stays over the figure, and half the kerf with it, mm. */
export const keptOver = (saw: Saw): number => saw.allowance + saw.kerf / 2;

/** From how many sides a section is sawn through: 1, 2, or null where some of it stays out of reach. */
export type Sides = 1 | 2 | null;

const LEAST_EDGE = 1e-9;

/**
 * The saw runs along an edge of the section, which lies on a face of the stone, and reaches so far in from it; the second
 * side is another edge. `section` runs counter-clockwise about `normal`.
 */
export function sidesNeeded(section: readonly Vec3[], normal: Vec3, reach: number): Sides {
	if (reach === Number.POSITIVE_INFINITY) return 1;
	const edges: { from: Vec3; inwards: Vec3 }[] = [];
	section.forEach((from, k) => {
		const way = sub(section[(k + 1) % section.length], from);
		if (dot(way, way) > LEAST_EDGE) edges.push({ from, inwards: unit(cross(normal, way)) });
	});
	const depth = (edge: number, at: Vec3): number => dot(edges[edge].inwards, sub(at, edges[edge].from));
	if (edges.some((_, e) => section.every((at) => depth(e, at) <= reach))) return 1;
	for (let e = 0; e < edges.length; e++) {
		// What the first side leaves, and whether any other side reaches all of it.
		const { from, inwards } = edges[e];
		const left = cutOutline(section, scale(inwards, -1), -dot(inwards, from) - reach);
		if (edges.some((_, f) => f !== e && left.every((at) => depth(f, at) <= reach))) return 2;
	}
	return null;
}
