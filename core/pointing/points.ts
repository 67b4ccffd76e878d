/** The points chosen so far, and what can be reached. */

import type { Vec3 } from "../vector.ts";
import type { DrilledHole, Ground, PointKind, Reach, SurfacePoint } from "./ground.ts";

export class PointList {
	readonly #ground: Ground;
	readonly #reach: Reach;
	/** Answers by vertex, for each round: reach is dear, and places are asked for more than once. */
	readonly #known = new Map<number, Map<number, boolean>>();
	#points: SurfacePoint[] = [];

	constructor(ground: Ground, reach: Reach) {
		this.#ground = ground;
		this.#reach = reach;
	}

	get points(): readonly SurfacePoint[] {
		return this.#points;
	}

	/** True when a drill line leads to vertex v in that round. */
	canReach(v: number, round: number): boolean {
		const known = this.#known.get(round) ?? new Map<number, boolean>();
		this.#known.set(round, known);
		let answer = known.get(v);
		if (answer === undefined) {
			answer = this.#ask(this.#place(v), v, round);
			known.set(v, answer);
		}
		return answer;
	}

	enter(v: number, round: number, kind: PointKind, reachable: boolean): void {
		this.#push(v, this.#place(v), round, kind, reachable);
	}

	/** Enters a place that the carver has picked, at vertex v but at its own position. */
	enterPicked(v: number, at: Vec3, round: number): void {
		this.#push(v, at, round, "picked", this.#ask(at, v, round));
	}

	/** Enters a point whose hole is in the stone, at vertex v but at its own position: it has been reached. */
	enterDrilled(v: number, { position, round, kind, number }: DrilledHole): void {
		this.#push(v, position, round, kind, true, number);
	}

	/** An undercut of an earlier round that lies within reach of this round's drill becomes a point of this round. */
	takeOver(round: number): void {
		this.#points = this.#points.map((point) =>
			point.reachable || !this.canReach(point.vertex, round) ? point : { ...point, round, reachable: true, reason: "" },
		);
	}

	/** Drops the points marked 1; returns how many. */
	drop(marks: Uint8Array): number {
		const before = this.#points.length;
		this.#points = this.#points.filter((_, i) => !marks[i]);
		return before - this.#points.length;
	}

	/** Marks the points from `first` on that stand on ground that is by eye (1 for each such vertex). */
	markByEye(first: number, byEye: Uint8Array): void {
		for (let i = first; i < this.#points.length; i++) {
			const point = this.#points[i];
			if (byEye[point.vertex]) this.#points[i] = { ...point, byEye: true, reason: point.reason || "by eye" };
		}
	}

	#ask(at: Vec3, v: number, round: number): boolean {
		const n = this.#ground.field.normals;
		return this.#reach(at[0], at[1], at[2], n[3 * v], n[3 * v + 1], n[3 * v + 2], round);
	}

	#place(v: number): Vec3 {
		const p = this.#ground.mesh.positions;
		return [p[3 * v], p[3 * v + 1], p[3 * v + 2]];
	}

	#push(
		vertex: number,
		position: Vec3,
		round: number,
		kind: PointKind,
		reachable: boolean,
		number: number | null = null,
	): void {
		const n = this.#ground.field.normals;
		this.#points.push({
			vertex,
			position,
			normal: [n[3 * vertex], n[3 * vertex + 1], n[3 * vertex + 2]],
			round,
			kind,
			reachable,
			byEye: false,
			number,
			reason: reachable ? "" : "undercut",
		});
	}
}
