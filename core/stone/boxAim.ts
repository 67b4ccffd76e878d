/** What a turn of the figure is judged by when the stone is a box: only its three widths along the box's edges count. */
import type { Vec3 } from "../vector.ts";

/**
 * One thing to make as great as can be:
 * - `clearance`: the least of gap − margin over the faces, mm; `room` is each side less its two margins,
 * - `scale`: the factor at which the figure just fits into `room`,
 * - `volume`: the volume of the box around the figure with `extra` (both margins) on each side, in mm³ and negative.
 */
export type BoxAim =
	| { readonly kind: "clearance"; readonly room: Vec3 }
	| { readonly kind: "scale"; readonly room: Vec3 }
	| { readonly kind: "volume"; readonly extra: Vec3 };

/** The aim's value at three widths; falls or stays when a width grows. */
export function aimValue(aim: BoxAim, w0: number, w1: number, w2: number): number {
	switch (aim.kind) {
		case "clearance":
			return Math.min(aim.room[0] - w0, aim.room[1] - w1, aim.room[2] - w2) / 2;
		case "scale":
			return Math.min(
				w0 > 0 ? aim.room[0] / w0 : Infinity,
				w1 > 0 ? aim.room[1] / w1 : Infinity,
				w2 > 0 ? aim.room[2] / w2 : Infinity,
			);
		case "volume":
			return -((w0 + aim.extra[0]) * (w1 + aim.extra[1]) * (w2 + aim.extra[2]));
	}
}

/** Whether the aim treats two axes alike, so that a quarter turn about the third changes nothing. */
export function alike(aim: BoxAim, i: number, j: number): boolean {
	return aim.kind === "volume" ? aim.extra[i] === aim.extra[j] : aim.room[i] === aim.room[j];
}
