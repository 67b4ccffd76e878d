/** The brush on the banker: ground where the carver wants more points, fewer, or none. */

import { signal } from "@preact/signals";
import type { Area } from "../../core/plan/commission.ts";
import type { Place } from "../banker/picker.ts";
import { placeOnModel } from "./datums.ts";
import type { Session } from "./session.ts";

export interface GroundBrush {
	/** On the spacing; 0 no points, 1 as it comes. */
	readonly factor: number;
	/** mm */
	readonly radius: number;
}

export const groundBrush = signal<GroundBrush>({ factor: 0.6, radius: 20 });
/** Dabs of one area at most. */
const MOST_DABS = 400;

export const factorWords = (factor: number): string =>
	factor === 0 ? "no points" : factor < 1 ? "closer" : factor > 1 ? "wider" : "as it comes";

/** What was brushed joins the last area when that was brushed alike. */
export function brushGround(session: Session, places: readonly Place[]): string | null {
	const { factor, radius } = groundBrush.value;
	const dabs = places.map((place) => ({ ...placeOnModel(place), radius_mm: radius }));
	return session.change(`brush ground, ${factorWords(factor)}`, (c) => {
		const last = c.areas.at(-1);
		if (last && last.factor === factor && last.dabs.length + dabs.length <= MOST_DABS)
			return { ...c, areas: [...c.areas.slice(0, -1), { ...last, dabs: [...last.dabs, ...dabs] }] };
		return { ...c, areas: [...c.areas, { name: `brushed ${c.areas.length + 1}`, factor, dabs }] };
	});
}

export const removeArea = (session: Session, index: number): string | null =>
	session.change("take brushed ground out", (c) => ({ ...c, areas: c.areas.filter((_, i) => i !== index) }));

/**
 * Factor at every vertex of the mesh that is shown, by straight distance and facing: a picture of what was brushed, quick
 * enough to follow the hand. What counts is worked out along the surface.
 */
export function brushedShown(
	positions: ArrayLike<number>,
	normals: ArrayLike<number>,
	areas: readonly Pick<Area, "factor" | "dabs">[],
): Float32Array {
	const factors = new Float32Array(positions.length / 3).fill(1);
	for (const { factor, dabs } of areas)
		for (const { position_mm: at, normal: n, radius_mm } of dabs)
			for (let v = 0; v < factors.length; v++) {
				const i = 3 * v;
				const [dx, dy, dz] = [positions[i] - at[0], positions[i + 1] - at[1], positions[i + 2] - at[2]];
				if (dx * dx + dy * dy + dz * dz > radius_mm * radius_mm) continue;
				if (normals[i] * n[0] + normals[i + 1] * n[1] + normals[i + 2] * n[2] > 0) factors[v] = factor;
			}
	return factors;
}
