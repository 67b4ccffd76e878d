import { expect, it } from "vitest";
import type { Vec3 } from "../../core/vector.ts";
import { createMarkSight } from "../../renderer/banker/markSight.ts";
import type { Mark } from "../../renderer/banker/marksView.ts";
import type { Picker } from "../../renderer/banker/picker.ts";
import type { Projection } from "../../renderer/banker/projection.ts";

const sign = (index: number, x = index): Mark => ({
	kind: "sign",
	words: `P${index}`,
	index,
	place: { position: [x, 0, 0], normal: [0, -1, 0] },
});
const view = { eye: [0, -1, 0], toScreen: ([x, , z]: Vec3) => [x, z] } as unknown as Projection;
const [WIDTH, HEIGHT] = [1000, 100];

/** Rays that each take a millisecond, over a surface that hides every third place. */
function bench() {
	let now = 0;
	let rays = 0;
	const picker = {
		hidden: ([x]: Vec3) => {
			now++;
			rays++;
			return x % 3 === 0;
		},
	} as unknown as Picker;
	const sight = createMarkSight(() => now);
	return {
		sight,
		look: () => sight.look(view, picker, WIDTH, HEIGHT),
		seen: () => sight.seen(view, WIDTH, HEIGHT).map(({ x }) => x),
		rays: () => rays,
	};
}

it("looks at as many marks in a frame as its time allows, and at all of them in the end", () => {
	const { sight, look, seen, rays } = bench();
	sight.setMarks(Array.from({ length: 20 }, (_, i) => sign(i)));
	expect(seen()).toEqual([]);
	let frames = 1;
	while (!look()) {
		frames++;
		expect(rays()).toBeLessThanOrEqual(5 * frames);
	}
	expect(frames).toBeGreaterThan(2);
	expect(seen()).toEqual(Array.from({ length: 20 }, (_, i) => i).filter((i) => i % 3 !== 0));
	expect(look()).toBe(true);
	expect(rays()).toBe(20);
	sight.lookAnew();
	while (!look());
	expect(rays()).toBe(40);
});

it("keeps what it knows of a mark that moves until it has been looked at again, and asks no ray beside the view", () => {
	const { sight, look, seen, rays } = bench();
	sight.setMarks([sign(1), sign(2), sign(3)]);
	while (!look());
	sight.setMarks([sign(1, 40), sign(2, 2000), sign(4, 50)]);
	expect(seen()).toEqual([40]);
	const before = rays();
	while (!look());
	expect(rays()).toBe(before + 2);
	expect(seen()).toEqual([40, 50]);
});
