/** Areas to be gilded: the brush, the stroke that is being drawn, and what becomes of it in the commission. */

import { signal } from "@preact/signals";
import type { Commission } from "../../core/plan/commission.ts";
import type { Place } from "../banker/picker.ts";
import { tidyPosition } from "./datums.ts";
import type { Session } from "./session.ts";
import { picking, setTrouble } from "./ui.ts";

type Area = Commission["finish"]["gilded"][number];
type Stroke = Area["strokes"][number];

export interface Brush {
	/** A fill runs as far as the surface, or to the creases. */
	readonly kind: "brush" | "fill";
	readonly radius_mm: number;
	/** Radius of curvature of a crease; null: it runs across them. */
	readonly crease_mm: number | null;
	readonly adds: boolean;
}

export const brush = signal<Brush>({ kind: "brush", radius_mm: 12, crease_mm: null, adds: true });
/** Places that the brush has gone over since it was set down. */
export const strokeDraft = signal<readonly Place[]>([]);

/** Strokes nearer than this share of the radius add nothing that can be seen. */
const APART = 0.4;

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

/** The brush is over a place while it is held down. */
export function brushOver(place: Place): void {
	const last = strokeDraft.value.at(-1);
	if (brush.value.kind === "fill" && last) return;
	const apart = APART * brush.value.radius_mm;
	if (last && Math.hypot(...place.position.map((x, i) => x - last.position[i])) < apart) return;
	strokeDraft.value = [...strokeDraft.value, place];
}

/** The brush is lifted: what it went over is marked. */
export function liftBrush(session: Session): string | null {
	const places = strokeDraft.value;
	strokeDraft.value = [];
	const at = picking.value;
	if (at?.kind !== "gild" || places.length === 0) return null;
	const { kind, radius_mm, crease_mm, adds } = brush.value;
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
		withAreas(c, (all) =>
			all.map((area, i) => (i === at.area ? { ...area, strokes: [...area.strokes, ...strokes] } : area)),
		),
	);
}

/** One touch at a place, where the brush has not gone over others since it was set down. */
export function dab(session: Session, place: Place): void {
	if (strokeDraft.value.length === 0) brushOver(place);
	setTrouble("gilding", liftBrush(session));
}
