/** Areas to be gilded: the brush, and what becomes of its strokes in the commission. */

import { signal } from "@preact/signals";
import type { Commission } from "../../core/plan/commission.ts";
import type { Place } from "../banker/picker.ts";
import { tidyPosition } from "./datums.ts";
import type { Session } from "./session.ts";
import { picking } from "./ui.ts";

type Area = Commission["finish"]["gilded"][number];
type Stroke = Area["strokes"][number];

export interface GoldBrush {
	/** A fill runs as far as the surface, or to the creases. */
	readonly kind: "brush" | "fill";
	readonly radius_mm: number;
	/** Radius of curvature of a crease; null: it runs across them. */
	readonly crease_mm: number | null;
	readonly adds: boolean;
}

export const goldBrush = signal<GoldBrush>({ kind: "brush", radius_mm: 12, crease_mm: null, adds: true });
const withAreas = (c: Commission, change: (areas: Area[]) => Area[]): Commission => ({
	...c,
	finish: { ...c.finish, gilded: change([...c.finish.gilded]) },
});

export function beginArea(session: Session): void {
	const areas = session.commission.value?.finish.gilded ?? [];
	const name = `area ${areas.length + 1}`;
	const refused = session.change(`add gilded ${name}`, (c) => withAreas(c, (all) => [...all, { name, strokes: [] }]));
	if (refused === null) picking.value = { kind: "gild", area: areas.length };
}

export const removeArea = (session: Session, index: number): string | null => {
	picking.value = null;
	const name = session.commission.value?.finish.gilded[index]?.name ?? "area";
	return session.change(`remove gilded ${name}`, (c) => withAreas(c, (all) => all.filter((_, i) => i !== index)));
};

export const nameArea = (session: Session, index: number, name: string): string | null =>
	session.change(`name gilded area ${name}`, (c) =>
		withAreas(c, (all) => all.map((area, i) => (i === index ? { ...area, name } : area))),
	);

/** What was brushed, or the place that is filled from, is marked. */
export function brushGold(session: Session, area: number, places: readonly Place[]): string | null {
	const { kind, radius_mm, crease_mm, adds } = goldBrush.value;
	const strokes = places.map(
		(place): Stroke => ({
			at_mm: tidyPosition(place.position),
			radius_mm: kind === "fill" ? null : radius_mm,
			crease_mm,
			adds,
		}),
	);
	const words = `${adds ? (kind === "fill" ? "fill" : "brush") : "take away from"} a gilded area`;
	return session.change(words, (c) =>
		withAreas(c, (all) => all.map((one, i) => (i === area ? { ...one, strokes: [...one.strokes, ...strokes] } : one))),
	);
}
