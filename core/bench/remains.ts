/**
 * The stone that is left, as limits on where a target may lie: planes behind which stone still stands, and for a target the
 * place of the present stone over it. All are told as the stone to spare over the allowance, mm, for a figure that has been
 * moved: x' = middle + shift + scale · R (x − middle).
 */

import { add, cross, dot, type Mat3, scale, sub, turn, type Vec3 } from "../vector.ts";

/** A target of the plan where it lies now, stone frame, mm. */
export interface LeftTarget {
	readonly at: Vec3;
	/** Unit, out of the figure. */
	readonly normal: Vec3;
	/** Stone that must stay over it. */
	readonly allowance: number;
	/**
	 * A place of the stone's present surface over it: the floor of its hole, a worked place, or the skin where its line leaves
	 * a sound stone; null where nothing is known.
	 */
	readonly over: Vec3 | null;
	/** That place is the floor of a hole. */
	readonly drilled: boolean;
	/** Stone that must stay over it under that place, where the plan's own hole leaves less by the tangent plane; else `allowance`. */
	readonly coverAllowance?: number;
}

/** Stone stands where normal · x ≤ offset: a face, a worked face, the plane of a break, the near side of a flaw. */
export interface LeftPlane {
	readonly name: string;
	/** Unit, out of the stone. */
	readonly normal: Vec3;
	readonly offset: number;
}

export interface Remains {
	readonly targets: readonly LeftTarget[];
	readonly planes: readonly LeftPlane[];
	/** Other places of the figure that must stay in the stone, such as the corners of its hull: x, y, z each, mm. */
	readonly body: Float64Array;
}

/** How the figure has been moved from where it lay. */
export interface Moved {
	readonly rotation: Mat3;
	readonly shift: Vec3;
	/** 1, or less where it was reduced. */
	readonly scale: number;
}

/** What holds: a target's own cover, a target under a plane, or a place of the body under a plane. */
export interface Hold {
	readonly kind: "cover" | "plane" | "body";
	/** Of the target, or of the place of the body. */
	readonly index: number;
	/** Index of the plane; −1 for a cover. */
	readonly plane: number;
}

/** Unknowns of a small further motion: shift x, y, z in mm, turn x, y, z and growth, both in mm at `size` from the middle. */
export const UNKNOWNS = 7;

/** All limits in one order, with their slack and its slope; `Float64Array`s are written anew by every call of `look`. */
export class Limits {
	readonly holds: readonly Hold[];
	readonly slack: Float64Array;
	/** UNKNOWNS a limit. */
	readonly slope: Float64Array;
	readonly middle: Vec3;
	/** Greatest distance of a target from the middle, mm. */
	readonly size: number;
	private readonly remains: Remains;

	constructor(remains: Remains) {
		const { targets, planes, body } = remains;
		this.remains = remains;
		this.middle = scale(targets.map((t) => t.at).reduce(add), 1 / targets.length);
		this.size = Math.max(1, ...targets.map((t) => Math.sqrt(dot(sub(t.at, this.middle), sub(t.at, this.middle)))));
		const holds: Hold[] = [];
		targets.forEach((target, index) => {
			if (target.over) holds.push({ kind: "cover", index, plane: -1 });
			planes.forEach((_, plane) => {
				holds.push({ kind: "plane", index, plane });
			});
		});
		for (let index = 0; 3 * index < body.length; index++)
			planes.forEach((_, plane) => {
				holds.push({ kind: "body", index, plane });
			});
		this.holds = holds;
		this.slack = new Float64Array(holds.length);
		this.slope = new Float64Array(UNKNOWNS * holds.length);
	}

	/** Slack of every limit for a moved figure, mm, negative where it is broken, and its slope; the least slack. */
	look(moved: Moved): number {
		const { targets, planes, body } = this.remains;
		let least = Number.POSITIVE_INFINITY;
		this.holds.forEach(({ kind, index, plane }, k) => {
			const at: Vec3 =
				kind === "body" ? [body[3 * index], body[3 * index + 1], body[3 * index + 2]] : targets[index].at;
			const arm = scale(turn(moved.rotation, sub(at, this.middle)), moved.scale);
			if (kind === "cover") this.cover(k, targets[index], arm, moved);
			else {
				const { normal, offset } = planes[plane];
				const needed = kind === "plane" ? targets[index].allowance : 0;
				this.slack[k] = offset - needed - dot(normal, add(add(this.middle, moved.shift), arm));
				this.write(k, scale(normal, -1), cross(normal, arm), 0 - dot(normal, arm) / moved.scale);
			}
			if (this.slack[k] < least) least = this.slack[k];
		});
		return least;
	}

	/** The present surface over a target must stay its allowance off the tangent plane of the moved target. */
	private cover(
		k: number,
		{ normal, allowance, coverAllowance = allowance, over }: LeftTarget,
		arm: Vec3,
		moved: Moved,
	): void {
		const n = turn(moved.rotation, normal);
		const reach = sub(sub(over ?? arm, this.middle), moved.shift);
		this.slack[k] = dot(n, sub(reach, arm)) - coverAllowance;
		// The normal turns with the figure: δ(n·reach) = δω·(n × reach), while n·arm stays.
		this.write(k, scale(n, -1), cross(n, reach), 0 - dot(n, arm) / moved.scale);
	}

	private write(k: number, shift: Vec3, turned: Vec3, grown: number): void {
		const at = UNKNOWNS * k;
		for (let j = 0; j < 3; j++) {
			this.slope[at + j] = shift[j];
			this.slope[at + 3 + j] = turned[j] / this.size;
		}
		this.slope[at + 6] = grown / this.size;
	}
}
