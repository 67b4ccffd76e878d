/** Which dabs of a brush may reach a place: asked vertex by vertex, while a great scan is painted piece by piece. */

import type { Vec3 } from "../../core/vector.ts";

export interface Dab {
	readonly at: Vec3;
	/** mm, as places. */
	readonly radius: number;
}

/** Of dabs, by their places in the list, rising: all that reach the place, and a few that only come near it. */
export type DabsNear = (x: number, y: number, z: number) => readonly number[];

const NONE: readonly number[] = [];

/** Cells as wide as the widest dab; two cells may share a name, which only makes the list longer. */
export function createDabGrid(dabs: readonly Dab[]): DabsNear {
	const width = Math.max(1e-3, ...dabs.map(({ radius }) => radius));
	const cell = (x: number): number => Math.floor(x / width);
	const nameOf = (i: number, j: number, k: number): number =>
		Math.imul(i, 73_856_093) ^ Math.imul(j, 19_349_663) ^ Math.imul(k, 83_492_791);
	const held = new Map<number, number[]>();
	dabs.forEach(({ at: [x, y, z], radius: r }, dab) => {
		for (let i = cell(x - r); i <= cell(x + r); i++)
			for (let j = cell(y - r); j <= cell(y + r); j++)
				for (let k = cell(z - r); k <= cell(z + r); k++) {
					const name = nameOf(i, j, k);
					const there = held.get(name);
					if (there === undefined) held.set(name, [dab]);
					else if (there[there.length - 1] !== dab) there.push(dab);
				}
	});
	return (x, y, z) => held.get(nameOf(cell(x), cell(y), cell(z))) ?? NONE;
}
