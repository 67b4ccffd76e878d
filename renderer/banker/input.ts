/** Pointer and keys on the banker: looking around, picking, taking hold of a datum and moving it along the surface. */

import type { Signal } from "@preact/signals";
import { takeCastPlace } from "../state/cast.ts";
import { takeBridgePlace } from "../state/cuts.ts";
import { putLinkPoint } from "../state/datumSets.ts";
import { heldPlace, moveHeld, removePick, takePick } from "../state/datums.ts";
import { inHand, letGo, moveInHand, turnInHand } from "../state/hand.ts";
import { putProofMark } from "../state/proofMarks.ts";
import { takeRulePlace } from "../state/rule.ts";
import type { Session } from "../state/session.ts";
import { takeSoundPlace } from "../state/sound.ts";
import { takePlanePlace } from "../state/stance.ts";
import { brushOver, isBrushing, liftBrush, stroke } from "../state/stroke.ts";
import { type Held, held, holeShown, picking, pointed, setTrouble } from "../state/ui.ts";
import type { Banker } from "./banker.ts";
import type { Dragged } from "./content.ts";
import type { Mark } from "./marksView.ts";
import type { Place } from "./picker.ts";
import { listenToPointers } from "./pointer.ts";

/** What is shown of a pick before it is made. */
export interface Aimed {
	/** Where it would go. */
	readonly ghost: Signal<Place | null>;
	/** The keyboard's crosshair, pixels. */
	readonly crosshair: Signal<readonly [number, number] | null>;
	readonly dragged: Signal<Dragged | null>;
}

const NUDGE_MM = 1;
const FAR_NUDGES = 10;
const KEY_TURN = 0.12;
const KEY_MOVE = 40;
const KEY_ZOOM = 1.2;
const CROSSHAIR_STEP = 12;
/** Radians a pixel. */
const HAND_TURN = 0.006;
const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
	ArrowLeft: [-1, 0],
	ArrowRight: [1, 0],
	ArrowUp: [0, 1],
	ArrowDown: [0, -1],
};

/** The thing that can be held at a mark; a point of the plan cannot. */
function heldAt(mark: Mark | null): Held | null {
	if (mark?.kind === "datum") return { kind: "datum", set: mark.set, index: mark.index };
	return mark?.kind === "pick" ? { kind: "pick", index: mark.index } : null;
}

/** Wires the canvas; the returned function unwires it. */
export function wireBanker(
	canvas: HTMLCanvasElement,
	made: Banker,
	session: Session,
	{ ghost, crosshair, dragged }: Aimed,
): () => void {
	const reach = (free: boolean): number =>
		free || isBrushing() ? 0 : (session.commission.value?.model.smallestForm_mm ?? 0);
	const take = (place: Place): void => {
		if (isBrushing()) {
			brushOver(place);
			liftBrush(session);
		} else if (picking.value?.kind === "cast") takeCastPlace(session, place);
		else if (picking.value?.kind === "bridge") takeBridgePlace(session, place);
		else if (picking.value?.kind === "rule") takeRulePlace(session, place);
		else if (picking.value?.kind === "plane") takePlanePlace(session, place);
		else if (picking.value?.kind === "sound") takeSoundPlace(session, place);
		else if (picking.value?.kind === "proof") putProofMark(session, place);
		else if (picking.value?.kind === "link") putLinkPoint(session, picking.value.set, place);
		else takePick(session, place);
	};
	let grabbed: Held | null = null;
	/** Where the pointer holds the figure in its stone, pixels. */
	let handAt: readonly [number, number] | null = null;
	const unwire = listenToPointers(canvas, {
		turn: made.turn,
		move: made.move,
		zoom: made.zoom,
		click(x, y, free) {
			if (picking.value) {
				const place = made.placeAt(x, y, reach(free));
				if (place) take(place);
				return;
			}
			const mark = made.markAt(x, y);
			held.value = heldAt(mark);
			pointed.value = mark?.kind === "point" ? mark.number : null;
			if (mark?.kind === "point") holeShown.value = mark.number;
		},
		hover(at, free) {
			crosshair.value = null;
			if (picking.value) {
				ghost.value = at && made.placeAt(at[0], at[1], reach(free));
				return;
			}
			const mark = at && made.markAt(at[0], at[1]);
			pointed.value = mark?.kind === "point" ? mark.number : null;
			canvas.classList.toggle("over-mark", mark?.kind === "datum" || mark?.kind === "pick");
		},
		grab(x, y) {
			// A brush that is set down off the model turns it, so that one need not put the brush away to see the back.
			if (isBrushing()) {
				const place = made.placeAt(x, y, 0);
				stroke.value = [];
				if (place) brushOver(place);
				return place !== null;
			}
			if (picking.value) return false;
			if (inHand.value && made.placeAt(x, y, 0)) {
				handAt = [x, y];
				return true;
			}
			grabbed = heldAt(made.markAt(x, y));
			if (grabbed) held.value = grabbed;
			return grabbed !== null;
		},
		drag(x, y, free) {
			if (handAt) {
				const [dx, dy] = [x - handAt[0], y - handAt[1]];
				handAt = [x, y];
				// With Alt it turns about the vertical, which any way of lying allows but the one as it stands.
				if (free) turnInHand(session, [0, 0, 1], dx * HAND_TURN);
				else moveInHand(session, made.inStone(dx, dy));
				return;
			}
			if (isBrushing()) {
				const place = made.placeAt(x, y, 0);
				if (place) brushOver(place);
				return;
			}
			const place = made.placeAt(x, y, reach(free));
			if (place && grabbed) dragged.value = { what: grabbed, place };
		},
		drop() {
			if (handAt) {
				handAt = null;
				letGo(session);
				return;
			}
			if (isBrushing()) {
				liftBrush(session);
				return;
			}
			if (dragged.value) setTrouble("datums", moveHeld(session, dragged.value.what, dragged.value.place));
			dragged.value = null;
		},
		release() {
			stroke.value = [];
			dragged.value = null;
			if (handAt) letGo(session);
			handAt = null;
		},
	});

	const keys = (event: KeyboardEvent): void => {
		const arrow = ARROWS[event.key];
		if (event.ctrlKey || event.metaKey) return;
		if (picking.value) {
			const [w, h] = made.size();
			const at = crosshair.value ?? [w / 2, h / 2];
			if (arrow) {
				const by = event.shiftKey ? 1 : CROSSHAIR_STEP;
				crosshair.value = [
					Math.max(0, Math.min(w, at[0] + arrow[0] * by)),
					Math.max(0, Math.min(h, at[1] - arrow[1] * by)),
				];
				ghost.value = made.placeAt(crosshair.value[0], crosshair.value[1], reach(event.altKey));
			} else if (event.key === "Enter" || event.key === " ") {
				const place = made.placeAt(at[0], at[1], reach(event.altKey));
				if (place) take(place);
			} else return;
			event.preventDefault();
			return;
		}
		const what = held.value;
		const from = what && heldPlace(session, what);
		if (arrow && what && from) {
			const by = NUDGE_MM * (event.shiftKey ? FAR_NUDGES : 1);
			setTrouble("datums", moveHeld(session, what, made.nudged(from, arrow[0] * by, arrow[1] * by)));
		} else if (arrow && event.shiftKey) made.move(-arrow[0] * KEY_MOVE, arrow[1] * KEY_MOVE);
		else if (arrow) made.turn(arrow[0] * KEY_TURN, arrow[1] * KEY_TURN);
		else if (event.key === "+" || event.key === "=") made.zoom(KEY_ZOOM);
		else if (event.key === "-") made.zoom(1 / KEY_ZOOM);
		else if (event.key === "0") made.whole();
		else if ((event.key === "Delete" || event.key === "Backspace") && what?.kind === "pick") {
			removePick(session, what.index);
			held.value = null;
		} else return;
		event.preventDefault();
	};
	canvas.addEventListener("keydown", keys);
	return () => {
		canvas.removeEventListener("keydown", keys);
		unwire();
	};
}
