import { expect, it } from "vitest";
import { seededRandom } from "../../core/random.ts";
import { stoneOf } from "../../core/stone/block.ts";
import { place, rotationFromQuaternion, type Vec3 } from "../../core/vector.ts";
import { gapToFaces } from "../../renderer/banker/gaps.ts";

it("is the least way to a side of the block, for every vertex of a turned figure", () => {
	const size: Vec3 = [220, 200, 450];
	const { faces } = stoneOf({ kind: "box", size });
	const random = seededRandom(6);
	const placement = { rotation: rotationFromQuaternion([0.1, -0.3, 0.2, 1]), translation: [100, 90, 200] as Vec3 };
	const positions = Float32Array.from({ length: 600 }, () => 120 * random.next() - 60);
	const gap = gapToFaces(positions, placement, faces);
	for (let v = 0; v < positions.length / 3; v++) {
		const at = place(placement, [positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]]);
		expect(gap(v)).toBeCloseTo(Math.min(...at, ...at.map((x, k) => size[k] - x)), 3);
	}
});
