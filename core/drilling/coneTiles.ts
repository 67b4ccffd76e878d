/**
 * The tiles of lean grids that lie in the cone of one search, each with the tilts of its lines and how far back their tips
 * may stand at most, so that one blocking place can do away with a tile at once.
 */

import { cosDegrees } from "../exactAngle.ts";
import { TILE_NUMBERS } from "./leanGrid.ts";
import type { LineTrial } from "./lineTrial.ts";
import { type SearchRules, STEEPEST_DEG } from "./searchRules.ts";

/** Rounding of cosines; a tile is taken for a hair wider than it is. */
const HAIR = 1e-12;
const STEEPEST_COSINE = cosDegrees(STEEPEST_DEG);

export class ConeTiles {
	count = 0;
	/** Face and tile, by number. */
	face = new Int32Array(256);
	tile = new Int32Array(256);
	/** Cosines of the least and of the greatest tilt in the tile. */
	least = new Float64Array(256);
	greatest = new Float64Array(256);
	/** Farthest back that the tip of any of its lines may stand. */
	limit = new Float64Array(256);
	/** How many blockers it has been held against. */
	known = new Int32Array(256);

	/** Takes the tiles of a lie's open faces that reach into the cone. */
	take(trial: LineTrial, search: SearchRules, lie: number): void {
		const [nx, ny, nz] = trial.target.normal;
		const coneCosine = cosDegrees(search.coneDeg);
		const leanCosine = cosDegrees(search.leanDeg);
		this.count = 0;
		for (const face of search.lies[lie].open) {
			const depth = trial.depthUnder[face];
			if (!(depth > 0)) continue;
			const { tiles, tileFrom } = search.grids[face];
			for (let tile = 0; tile + 1 < tileFrom.length; tile++) {
				const c = TILE_NUMBERS * tile;
				const middle = tiles[c] * nx + tiles[c + 1] * ny + tiles[c + 2] * nz;
				const cosine = tiles[c + 3];
				const sine = tiles[c + 4];
				const aside = Math.sqrt(Math.max(0, 1 - middle * middle));
				// Cosines of the middle's tilt less, and plus, the tile's width.
				const least = middle >= cosine ? 1 : middle * cosine + aside * sine;
				if (least + HAIR < coneCosine) continue;
				const greatest = Math.max(STEEPEST_COSINE, middle * cosine - aside * sine - HAIR);
				if (this.count === this.face.length) this.#grow();
				const n = this.count++;
				this.face[n] = face;
				this.tile[n] = tile;
				this.least[n] = least + HAIR;
				this.greatest[n] = greatest;
				this.limit[n] = trial.farthestTip(greatest, depth / leanCosine);
				this.known[n] = 0;
			}
		}
	}

	/** Removes tile n; the last one takes its place. */
	drop(n: number): void {
		const last = --this.count;
		this.face[n] = this.face[last];
		this.tile[n] = this.tile[last];
		this.least[n] = this.least[last];
		this.greatest[n] = this.greatest[last];
		this.limit[n] = this.limit[last];
		this.known[n] = this.known[last];
	}

	#grow(): void {
		const longer = <T extends Int32Array | Float64Array>(from: T, to: T): T => {
			to.set(from);
			return to;
		};
		const room = 2 * this.face.length;
		this.face = longer(this.face, new Int32Array(room));
		this.tile = longer(this.tile, new Int32Array(room));
		this.least = longer(this.least, new Float64Array(room));
		this.greatest = longer(this.greatest, new Float64Array(room));
		this.limit = longer(this.limit, new Float64Array(room));
		this.known = longer(this.known, new Int32Array(room));
	}
}
