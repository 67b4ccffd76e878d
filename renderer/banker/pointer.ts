/** Pointers on the banker: one turns, two (or the other button, or Shift) move, wheel and pinch zoom; a click is none of these. */

export interface PointerActions {
	/** Radians right and up. */
	turn(right: number, up: number): void;
	/** Pixels. */
	move(right: number, down: number): void;
	/** About a place, pixels from the upper left corner. */
	zoom(factor: number, x: number, y: number): void;
	click(x: number, y: number, free: boolean): void;
	/** The pointer rests at a place, or null when it has left. */
	hover(at: readonly [number, number] | null, free: boolean): void;
	/** Whether a drag that starts here takes hold of a mark; if so `drag` and `drop` follow instead of turning. */
	grab(x: number, y: number): boolean;
	drag(x: number, y: number, free: boolean): void;
	drop(): void;
	/** A second finger came: what was taken hold of goes back to where it was. */
	release(): void;
}

const TURN_PER_PIXEL = 0.0085;
/** A press that moves less than this is a click, pixels. */
const CLICK_WITHIN = 5;
const WHEEL_STEP = 0.0016;

/** Wires an element; the returned function unwires it. `free`: Alt is held. */
export function listenToPointers(element: HTMLElement, actions: PointerActions): () => void {
	const down = new Map<number, { x: number; y: number }>();
	let moved = 0;
	let moving = false;
	let grabbed = false;
	const stop = new AbortController();
	const at = (event: PointerEvent | WheelEvent): readonly [number, number] => {
		const box = element.getBoundingClientRect();
		return [event.clientX - box.left, event.clientY - box.top];
	};
	const on = <K extends keyof HTMLElementEventMap>(kind: K, then: (event: HTMLElementEventMap[K]) => void): void =>
		element.addEventListener(kind, then, { signal: stop.signal, passive: false });

	on("pointerdown", (event) => {
		const [x, y] = at(event);
		element.setPointerCapture(event.pointerId);
		down.set(event.pointerId, { x, y });
		if (down.size === 1) {
			moved = 0;
			moving = event.button !== 0 || event.shiftKey;
			grabbed = !moving && actions.grab(x, y);
		} else {
			// Two fingers are never a click, however still they are held.
			moved = CLICK_WITHIN + 1;
			if (grabbed) actions.release();
			grabbed = false;
		}
	});
	on("pointermove", (event) => {
		const [x, y] = at(event);
		const from = down.get(event.pointerId);
		if (!from) {
			actions.hover([x, y], event.altKey);
			return;
		}
		const dx = x - from.x;
		const dy = y - from.y;
		if (down.size >= 2) {
			const [other] = [...down].filter(([id]) => id !== event.pointerId).map(([, p]) => p);
			const before = Math.hypot(from.x - other.x, from.y - other.y);
			const after = Math.hypot(x - other.x, y - other.y);
			actions.move(dx / 2, dy / 2);
			if (before > 10 && after > 10) actions.zoom(after / before, (x + other.x) / 2, (y + other.y) / 2);
			moved = CLICK_WITHIN + 1;
		} else {
			moved += Math.hypot(dx, dy);
			if (moved > CLICK_WITHIN) {
				if (grabbed) actions.drag(x, y, event.altKey);
				else if (moving) actions.move(dx, dy);
				else actions.turn(-dx * TURN_PER_PIXEL, dy * TURN_PER_PIXEL);
			}
		}
		down.set(event.pointerId, { x, y });
	});
	const up = (event: PointerEvent): void => {
		if (!down.delete(event.pointerId)) return;
		const [x, y] = at(event);
		if (down.size > 0) return;
		if (grabbed && moved > CLICK_WITHIN) actions.drop();
		else if (event.type === "pointerup" && moved <= CLICK_WITHIN && event.button === 0)
			actions.click(x, y, event.altKey);
		grabbed = false;
	};
	on("pointerup", up);
	on("pointercancel", up);
	on("pointerleave", (event) => {
		// A finger that is lifted has left; what it tapped stays lit.
		if (down.size === 0 && event.pointerType !== "touch") actions.hover(null, event.altKey);
	});
	on("contextmenu", (event) => event.preventDefault());
	on("wheel", (event) => {
		event.preventDefault();
		const [x, y] = at(event);
		const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1;
		actions.zoom(Math.exp(-event.deltaY * lines * WHEEL_STEP), x, y);
	});
	return () => stop.abort();
}
