import { describe, expect, it } from "vitest";
import { type Commission, newCommission } from "../../core/plan/commission.ts";
import { seededRandom } from "../../core/random.ts";
import { dot, type Placement, place, rotationFromQuaternion, turn, unit, type Vec3 } from "../../core/vector.ts";
import type { Place } from "../../renderer/banker/picker.ts";
import { anglesOf, normalAt } from "../../renderer/state/cuts.ts";
import type { Session } from "../../renderer/state/session.ts";
import { pickPlane, planePicked, takePlanePlace } from "../../renderer/state/stance.ts";
import { picking, troubles } from "../../renderer/state/ui.ts";
import { eggMesh } from "./egg.ts";

describe("which way a cut looks", () => {
	it("is counted from the front by the right, and up from level", () => {
		expect(anglesOf([0, -1, 0])).toEqual({ turn: 0, rise: 0 });
		expect(anglesOf([1, 0, 0])).toEqual({ turn: 90, rise: 0 });
		expect(anglesOf([0, 1, 0])).toEqual({ turn: 180, rise: 0 });
		expect(anglesOf([-1, 0, 0])).toEqual({ turn: -90, rise: 0 });
		expect(anglesOf([0, 0, 1]).rise).toBe(90);
	});

	it("comes back from its angles to a tenth of a degree", () => {
		const random = seededRandom(9);
		for (let i = 0; i < 50; i++) {
			const n = unit([random.normal(), random.normal(), random.normal()]);
			const { turn, rise } = anglesOf(n);
			expect(dot(normalAt(turn, rise), n)).toBeGreaterThan(Math.cos((0.1 * Math.PI) / 180));
		}
	});
});

describe("a cut along three places picked on the figure", () => {
	const { positions } = eggMesh(30);
	const placement: Placement = {
		rotation: rotationFromQuaternion([0.1, -0.2, 0.3, 1]),
		translation: [210, 190, 205],
	};
	const at = (position: Vec3): Place => ({ position, normal: unit(position) }) as unknown as Place;

	function bench() {
		let commission: Commission = newCommission("egg.stl");
		const session = {
			mesh: { value: { positions: Float32Array.from(positions) } },
			answers: { value: { stone: { fit: { placement } } } },
			get commission() {
				return { value: commission };
			},
			change(_: string, recipe: (c: Commission) => Commission) {
				commission = recipe(commission);
				return null;
			},
		} as unknown as Session;
		return { session, own: () => commission.cuts.own };
	}

	it("lies parallel to them, on the outer side, where every place of the figure keeps what must stay", () => {
		const { session, own } = bench();
		pickPlane("saw");
		for (const place of [at([90, 10, 40]), at([20, 85, 50]), at([30, 20, 150])]) takePlanePlace(session, place);
		expect(picking.value).toBeNull();
		expect(own()).toHaveLength(1);
		const [{ normal, offset_mm }] = own();
		const across = [-70, 75, 10] as const;
		const up = [-60, 10, 110] as const;
		// Along both sides of the triangle, and away from the middle.
		expect(Math.abs(dot(normal, turn(placement.rotation, across)))).toBeLessThan(1e-9);
		expect(Math.abs(dot(normal, turn(placement.rotation, up)))).toBeLessThan(1e-9);
		let nearest = Infinity;
		for (let i = 0; i < positions.length; i += 3) {
			const inStone = place(placement, [positions[i], positions[i + 1], positions[i + 2]]);
			nearest = Math.min(nearest, offset_mm - dot(normal, inStone));
		}
		// A bridge saw's allowance of 15 mm and half its kerf of 6 mm.
		expect(nearest).toBeGreaterThanOrEqual(18);
		expect(nearest).toBeLessThan(18.01);
	});

	it("is not drawn through three places in a line, and says so", () => {
		const { session, own } = bench();
		pickPlane("saw");
		for (const x of [0, 50, 101]) takePlanePlace(session, at([x, 1, 2]));
		expect(own()).toHaveLength(0);
		expect(troubles.value.cuts).toMatch(/nearly in a line/);
		expect(planePicked(session)).toHaveLength(2);
		picking.value = null;
	});
});
