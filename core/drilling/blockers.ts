/**
 * Places of the surface that have blocked a line to one target. A place that stands within the hole of one line stands
 * within those of its neighbours too, so a few of them stand for the whole surface at the cost of a few multiplications.
 */

import { capReach, type SweptSolid } from "../surface/sweptSolid.ts";
import { TILE_NUMBERS } from "./leanGrid.ts";

/** Where room runs out, the last place is given up for the new one: only speed depends on it. */
const ROOM = 128;

export class Blockers {
	/** Relative to the target, model frame, mm. */
	readonly #places = new Float64Array(3 * ROOM);
	#count = 0;
	/** The place that blocked last: neighbouring lines come one after the other. */
	#latest = 0;

	get count(): number {
		return this.#count;
	}

	forget(): void {
		this.#count = 0;
		this.#latest = 0;
	}

	add(x: number, y: number, z: number): void {
		const at = this.#count < ROOM ? this.#count++ : ROOM - 1;
		this.#places[3 * at] = x;
		this.#places[3 * at + 1] = y;
		this.#places[3 * at + 2] = z;
		this.#latest = at;
	}

	/** Whether a known place keeps the tip of one of the solids from coming as near to the target as `limit`, mm along the line. */
	blocksLine(
		dx: number,
		dy: number,
		dz: number,
		limit: number,
		first: SweptSolid,
		second: SweptSolid = first,
	): boolean {
		const places = this.#places;
		const count = this.#count;
		for (let n = 0; n < count; n++) {
			const i = n === 0 ? this.#latest : n <= this.#latest ? n - 1 : n;
			const x = places[3 * i];
			const y = places[3 * i + 1];
			const z = places[3 * i + 2];
			const ahead = x * dx + y * dy + z * dz;
			const rho = Math.sqrt(Math.max(0, x * x + y * y + z * z - ahead * ahead));
			if (reachesPast(first, ahead, rho, limit) || (second !== first && reachesPast(second, ahead, rho, limit))) {
				this.#latest = i;
				return true;
			}
		}
		return false;
	}

	/**
	 * Whether one place, from place `from` on, blocks every line of a tile (five numbers at `c`: middle, cosine and sine of
	 * its width) for one of the solids.
	 */
	blocksTile(
		tiles: Float64Array,
		c: number,
		limit: number,
		first: SweptSolid,
		second: SweptSolid,
		from: number,
	): boolean {
		const places = this.#places;
		const [cosine, sine] = [tiles[c + TILE_NUMBERS - 2], tiles[c + TILE_NUMBERS - 1]];
		for (let i = from; i < this.#count; i++) {
			const x = places[3 * i];
			const y = places[3 * i + 1];
			const z = places[3 * i + 2];
			const ahead = x * tiles[c] + y * tiles[c + 1] + z * tiles[c + 2];
			const square = x * x + y * y + z * z;
			const rho = Math.sqrt(Math.max(0, square - ahead * ahead));
			// On the line of the tile that is turned straight away from the place.
			const least = ahead * cosine - rho * sine;
			const most = rho * cosine + ahead * sine;
			if (!(least > 0)) continue;
			if (least + capReach(first, most) > limit) return true;
			const width = most + second.widening * Math.sqrt(square) - second.wider;
			if (least + capReach(second, width) > limit) return true;
		}
		return false;
	}
}

const reachesPast = (solid: SweptSolid, ahead: number, rho: number, limit: number): boolean =>
	ahead + solid.push + capReach(solid, rho + solid.widening * ahead - solid.wider) > limit;
