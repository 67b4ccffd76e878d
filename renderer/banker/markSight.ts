/** Which marks the surface hides: asked a few at a time, so that hundreds of rays through a great scan hold up no frame. */

import type { Mark, Projected } from "./marksView.ts";
import type { Picker } from "./picker.ts";
import type { Projection } from "./projection.ts";

/** Rays go on until then in one frame, ms. */
const BUDGET_MS = 5;
/** How far out of the view a mark may lie and still show its rim, pixels. */
const RIM = 20;

export interface MarkSight {
	/** Other marks; one that was there before is taken to be seen, or not, until it has been looked at. */
	setMarks(next: readonly Mark[]): void;
	/** The view or the surface has changed: every mark must be looked at anew. */
	lookAnew(): void;
	/** Looks at some; true when none is left. `picker` null: nothing hides them. */
	look(view: Projection, picker: Picker | null, width: number, height: number): boolean;
	/** Those that lie within the view and were seen when they were last looked at, where they are now. */
	seen(view: Projection, width: number, height: number): Projected[];
}

const nameOf = (mark: Mark): string =>
	mark.kind === "point"
		? `point ${mark.number}`
		: `${mark.kind} ${mark.kind === "datum" ? mark.letter : mark.kind === "sign" ? mark.words : ""} ${mark.index}`;

export function createMarkSight(clock: () => number = () => performance.now()): MarkSight {
	let marks: readonly Mark[] = [];
	/** By mark, 1: seen. */
	let sight = new Uint8Array(0);
	let next = 0;
	let left = 0;
	return {
		setMarks(now) {
			const before = new Set(marks.flatMap((mark, i) => (sight[i] === 1 ? [nameOf(mark)] : [])));
			sight = Uint8Array.from(now, (mark) => (before.has(nameOf(mark)) ? 1 : 0));
			marks = now;
			next = 0;
			left = marks.length;
		},
		lookAnew() {
			left = marks.length;
		},
		look(view, picker, width, height) {
			const until = clock() + BUDGET_MS;
			for (; left > 0; left--) {
				const { position, normal } = marks[next].place;
				const [x, y] = view.toScreen(position);
				const isWithin = x >= -RIM && y >= -RIM && x <= width + RIM && y <= height + RIM;
				sight[next] = isWithin && !picker?.hidden(position, normal, view.eye) ? 1 : 0;
				next = (next + 1) % marks.length;
				if (isWithin && clock() >= until) {
					left--;
					break;
				}
			}
			return left === 0;
		},
		seen(view, width, height) {
			const found: Projected[] = [];
			for (let i = 0; i < marks.length; i++) {
				if (sight[i] === 0) continue;
				const [x, y] = view.toScreen(marks[i].place.position);
				if (x >= -RIM && y >= -RIM && x <= width + RIM && y <= height + RIM) found.push({ mark: marks[i], x, y });
			}
			return found;
		},
	};
}
