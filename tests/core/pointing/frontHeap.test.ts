import { expect, test } from "vitest";
import { FrontHeap } from "../../../core/pointing/frontHeap.ts";
import { seededRandom } from "../../../core/random.ts";

test("entries come out by cost, then by index, as a sorted list gives them, while others are entered", () => {
	const random = seededRandom(5);
	const heap = new FrontHeap();
	const twin: [number, number][] = [];
	for (let turn = 0; turn < 6000; turn++) {
		if (twin.length === 0 || random.next() < 0.6) {
			// Few costs, so that many are equal.
			const entry: [number, number] = [Math.floor(40 * random.next()), Math.floor(300 * random.next())];
			twin.push(entry);
			heap.push(entry[1], entry[0]);
		} else {
			twin.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
			const [cost, v] = twin.shift() as [number, number];
			expect(heap.leastCost()).toBe(cost);
			expect(heap.take()).toBe(v);
		}
		expect(heap.size).toBe(twin.length);
	}
});
