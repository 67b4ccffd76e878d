/** A stroke of whichever brush is in hand, of the one on ground or of the one on gold, until it is lifted. */

import { signal } from "@preact/signals";
import type { Place } from "../banker/picker.ts";
import { brushGround, groundBrush } from "./brush.ts";
import { brushGold, goldBrush } from "./gilding.ts";
import type { Session } from "./session.ts";
import { picking, setTrouble } from "./ui.ts";

/** Places that the brush has gone over since it was set down. */
export const stroke = signal<readonly Place[]>([]);

/** Places nearer than this share of the radius add nothing that can be seen. */
const APART = 0.4;
/** Places of one stroke at most. */
const MOST = 400;

export const isBrushing = (): boolean => picking.value?.kind === "brush" || picking.value?.kind === "gild";

/** The brush is over a place while it is held down. A fill has one place. */
export function brushOver(place: Place): void {
	const gilds = picking.value?.kind === "gild";
	const fills = gilds && goldBrush.value.kind === "fill";
	const radius = gilds ? goldBrush.value.radius_mm : groundBrush.value.radius;
	const last = stroke.value.at(-1);
	if (last && (fills || Math.hypot(...place.position.map((x, i) => x - last.position[i])) < APART * radius)) return;
	if (stroke.value.length < MOST) stroke.value = [...stroke.value, place];
}

/** The brush is lifted: what it went over goes into the commission. */
export function liftBrush(session: Session): void {
	const places = stroke.value;
	stroke.value = [];
	if (places.length === 0) return;
	if (picking.value?.kind === "gild") setTrouble("gilding", brushGold(session, picking.value.area, places));
	else setTrouble("areas", brushGround(session, places));
}
