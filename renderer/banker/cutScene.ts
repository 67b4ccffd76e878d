/** What of the cuts stands on the banker: from the answers and the cut that is looked at. Stone frame, mm. */

import { type ConvexSolid, cutBy, faceOf, solidOf } from "../../core/cuts/convexSolid.ts";
import type { StopField } from "../../core/cuts/stopField.ts";
import { along, scale, type Vec3 } from "../../core/vector.ts";
import { bridgesPlaced, cutShown } from "../state/cuts.ts";
import type { Session } from "../state/session.ts";

export interface CutScene {
	/** Edges of the stone as it stands, two ends each. */
	readonly edges: readonly Vec3[];
	/** The line of the cut that is looked at, and all kerfs of stop cuts, two ends each. */
	readonly cut: readonly Vec3[];
	/** Triangles of the piece that comes off. */
	readonly piece: readonly Vec3[];
	readonly bridges: readonly { readonly from: Vec3; readonly to: Vec3; readonly radius: number }[];
}

export function cutScene(session: Session): CutScene | null {
	const answer = session.answers.value?.cuts;
	const bridges = bridgesPlaced(session);
	if (!answer) return bridges.length > 0 ? { edges: [], cut: [], piece: [], bridges } : null;
	const number = cutShown.value;
	const shown = number === null ? undefined : answer.cuts[number];
	const solid = number !== null && shown ? answer.before[number] : solidOf(answer.left);
	const piece =
		shown && cutBy(solid, { normal: scale(shown.plane.normal, -1), offset: -shown.plane.offset }, shown.name);
	return {
		edges: edgesOf(solid),
		cut: [...(shown ? closed(shown.section) : []), ...(shown ? [] : answer.stopFields.flatMap(kerfLines))],
		piece: piece ? trianglesOf(piece) : [],
		bridges,
	};
}

const closed = (ring: readonly Vec3[]): Vec3[] => ring.flatMap((at, k) => [at, ring[(k + 1) % ring.length]]);

/** Every edge once: of the two faces that share it, the one that runs it upwards by number. */
function edgesOf(solid: ConvexSolid): Vec3[] {
	const edges: Vec3[] = [];
	for (let f = 0; f < solid.names.length; f++) {
		const ring = faceOf(solid, f);
		for (let k = solid.starts[f]; k < solid.starts[f + 1]; k++) {
			const next = k + 1 < solid.starts[f + 1] ? k + 1 : solid.starts[f];
			if (solid.loops[k] < solid.loops[next]) edges.push(ring[k - solid.starts[f]], ring[next - solid.starts[f]]);
		}
	}
	return edges;
}

function trianglesOf(solid: ConvexSolid): Vec3[] {
	return solid.names.flatMap((_, f) => {
		const ring = faceOf(solid, f);
		return ring.slice(1, -1).flatMap((at, k) => [ring[0], at, ring[k + 2]]);
	});
}

/** The outline of every kerf, and the floors between them. */
function kerfLines({ face, runs, from, to, kerfs }: StopField): Vec3[] {
	const [run, step] = runs === "u" ? [face.u, face.v] : [face.v, face.u];
	const at = (across: number, way: number, depth: number): Vec3 =>
		along(along(along(face.origin, step, across), run, way), face.normal, -depth);
	const lines: Vec3[] = [];
	kerfs.forEach((kerf, i) => {
		lines.push(
			...closed([at(kerf.at, from, 0), at(kerf.at, to, 0), at(kerf.at, to, kerf.depth), at(kerf.at, from, kerf.depth)]),
		);
		const next = kerfs[i + 1];
		if (next) for (const way of [from, to]) lines.push(at(kerf.at, way, kerf.depth), at(next.at, way, next.depth));
	});
	return lines;
}
