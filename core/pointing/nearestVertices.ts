/** Where on the mesh a picked place lies. */

import { Refusal } from "../refusal.ts";
import type { Ground, Pick, Surface } from "./ground.ts";

/** What a place that is off the ground is called in the refusal. */
type OffGround = "pointing.pickOffGround" | "pointing.areaOffGround" | "pointing.drilledOffGround";

/** mm; a pick farther from the ground than this belongs to another figure, or to this one at another size. */
const FARTHEST = 10;

type NearGround = { readonly [K in "mesh" | "field" | "smallestForm"]: Ground[K] };

/**
 * For every pick the nearest vertex that carries points and faces the same way (normals less than 90° apart), within 10 mm;
 * one that faces away counts as four smallest forms farther off. Ties go to the lower index. Refused when there is none.
 */
export function nearestVertices(
	ground: NearGround,
	surface: Surface,
	picks: readonly Pick[],
	offGround: OffGround = "pointing.pickOffGround",
): number[] {
	if (picks.length === 0) return [];
	const p = ground.mesh.positions;
	const n = ground.field.normals;
	const best = new Array<number>(picks.length).fill(-1);
	const bestScore = new Array<number>(picks.length).fill(FARTHEST);
	const away = 4 * ground.smallestForm;
	for (let v = 0; v < surface.carries.length; v++) {
		if (!surface.carries[v]) continue;
		const x = p[3 * v];
		const y = p[3 * v + 1];
		const z = p[3 * v + 2];
		for (let i = 0; i < picks.length; i++) {
			const at = picks[i].position;
			const dx = at[0] - x;
			const dy = at[1] - y;
			const dz = at[2] - z;
			const d2 = dx * dx + dy * dy + dz * dz;
			if (d2 >= bestScore[i] * bestScore[i]) continue;
			const m = picks[i].normal;
			const facing = m[0] * n[3 * v] + m[1] * n[3 * v + 1] + m[2] * n[3 * v + 2];
			const score = Math.sqrt(d2) + (facing > 0 ? 0 : away);
			if (score < bestScore[i]) {
				bestScore[i] = score;
				best[i] = v;
			}
		}
	}
	for (let i = 0; i < picks.length; i++)
		if (best[i] < 0) throw new Refusal(offGround, { pick: i + 1, at: picks[i].position, farthest: FARTHEST });
	return best;
}
