/** Claims once it is known which of the placed points are drilled. */

import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { asDrilled } from "../../../core/pointing/asDrilled.ts";
import { doubtFloor } from "../../../core/pointing/cover.ts";
import { Join } from "../../../core/pointing/join.ts";
import { placeRounds } from "../../../core/pointing/rounds.ts";
import { seededRandom } from "../../../core/random.ts";
import { torus } from "../../support/shapes.ts";
import { bruteCover } from "./bruteJoin.ts";
import { groundOf, net } from "./grounds.ts";

describe("points as they are drilled, on a ring of which the placing reaches the upper two thirds", () => {
	const ground = groundOf(torus(60, 25, { edge: 1.5, seed: 5 }).mesh);
	const requests = [net(6, { drill: 6 }), net(3.5, { round: 1 })];
	const low = ground.mesh.positions.reduce((m, z, i) => (i % 3 === 2 ? Math.min(m, z) : m), Number.POSITIVE_INFINITY);
	const placed = finish(placeRounds(ground, requests, [], (_x, _y, z) => z > low + ground.height / 3));
	const asPlaced = Uint8Array.from(placed.points, (point) => (point.reachable ? 1 : 0));
	const random = seededRandom(8);
	/** Every eighth hole is lost, every second undercut is reached after all. */
	const changed = asPlaced.map((was) => (was ? (random.next() < 1 / 8 ? 0 : 1) : random.next() < 1 / 2 ? 1 : 0));
	const after = finish(asDrilled(placed, changed));

	it("is the same ground where nothing has changed", () => {
		expect(asPlaced).toContain(0);
		expect(finish(asDrilled(placed, asPlaced))).toBe(placed);
	});

	it("does not depend on what was asked before, and leaves the placing as it is", () => {
		const before = placed.rounds.map((round) => round.cover.slice());
		finish(asDrilled(placed, new Uint8Array(placed.points.length).fill(1)));
		expect(finish(asDrilled(placed, changed))).toEqual(after);
		expect(placed.rounds.map((round) => round.cover)).toEqual(before);
	});

	it("marks the points, undercut or not", () => {
		expect(Uint8Array.from(after.points, (point) => (point.reachable ? 1 : 0))).toEqual(changed);
		for (const { reachable, reason } of after.points) expect(reason === "undercut").toBe(!reachable);
	});

	it("measures the cover that a join made afresh among the drilled points has", () => {
		for (const [r, request] of requests.entries()) {
			const join = new Join(placed.surface, ground.field.normals, request.join, doubtFloor(request));
			after.points.forEach((p, i) => {
				if (changed[i] && p.round <= r) join.enter(p.vertex, p.position, p.normal);
			});
			finish(join.spread());
			finish(join.measure());
			const { cover } = after.rounds[r];
			let same = 0;
			for (let v = 0; v < cover.length; v++)
				if (Object.is(cover[v], join.cover.cover[v]) || Math.abs(cover[v] - join.cover.cover[v]) < 1e-5) same++;
			// Cells grown again meet a hair elsewhere than cells grown at once.
			expect(same / cover.length).toBeGreaterThan(0.98);
		}
	});

	it("claims nothing in which the brute-force join cuts", () => {
		for (const [r, request] of requests.entries()) {
			const drilled = after.points.filter((point) => point.reachable && point.round <= r);
			const brute = bruteCover(ground.mesh, drilled, request.join);
			let [cut, claimed] = [0, 0];
			for (let v = 0; v < ground.areas.length; v++) {
				if (!after.rounds[r].claimed[v]) continue;
				claimed += ground.areas[v];
				if (brute.nearest[v] < 0) cut += ground.areas[v];
			}
			expect(cut / claimed).toBeLessThan(0.001);
		}
	});
});
