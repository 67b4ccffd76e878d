/** The brush on the banker: ground where the carver wants more points, fewer, or none. */

import { signal } from "@preact/signals";
import type { Area } from "../../core/plan/commission.ts";
import { createDabGrid } from "../banker/dabGrid.ts";
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
 * Factor at a vertex of the mesh that is shown, by straight distance and facing: a picture of what was brushed, quick
 * enough to follow the hand. What counts is worked out along the surface.
 */
export function brushedShown(
	positions: ArrayLike<number>,
	normals: ArrayLike<number>,
	areas: readonly Pick<Area, "factor" | "dabs">[],
): (vertex: number) => number {
	const dabs = areas.flatMap(({ factor, dabs }) =>
		dabs.map(({ position_mm: at, normal, radius_mm: radius }) => ({ factor, at, normal, radius })),
	);
	const near = createDabGrid(dabs);
	return (v) => {
		const i = 3 * v;
		const [x, y, z] = [positions[i], positions[i + 1], positions[i + 2]];
		const found = near(x, y, z);
		// The last stroke lies on top.
		for (let k = found.length - 1; k >= 0; k--) {
			const { factor, at, normal: n, radius } = dabs[found[k]];
			const [dx, dy, dz] = [x - at[0], y - at[1], z - at[2]];
			if (dx * dx + dy * dy + dz * dz > radius * radius) continue;
			if (normals[i] * n[0] + normals[i + 1] * n[1] + normals[i + 2] * n[2] > 0) return factor;
		}
		return 1;
	};
}
