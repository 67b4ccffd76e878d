/** A map of the owl against the time that three-mesh-bvh takes to build its tree over the same mesh. */

import { DoubleSide, Ray } from "three";
import type { MeshBVH } from "three-mesh-bvh";
import { principalCurvatures } from "../../core/curvature/principalCurvatures.ts";
import { finish } from "../../core/job.ts";
import { seededRandom } from "../../core/random.ts";
import { FACE_VIEWS } from "../../core/sheet/faces.ts";
import { drawFigure, type Figure, type FigureLines, prepareFigure } from "../../core/sheet/figureLines.ts";
import type { Ground } from "../../core/sheet/hatching.ts";
import { mapPages, mapScale } from "../../core/sheet/maps.ts";
import type { MapView } from "../../core/sheet/mapViews.ts";
import { PAPER_SIZES } from "../../core/sheet/paper.ts";
import { readFonts } from "../../core/sheet/sheetPdf.ts";
import { writeSvg } from "../../core/sheet/svgWriter.ts";
import { buildAdjacency } from "../../core/surface/adjacency.ts";
import { IDENTITY } from "../../core/vector.ts";
import { handPlan } from "../support/handPlan.ts";
import { sheetFonts } from "../support/sheetFonts.ts";
import type { Comparison } from "./harness.ts";
import { libraryTree, owl } from "./inputs.ts";

const STILL = { rotation: IDENTITY, translation: [0, 0, 0] as const };
const FRONT = FACE_VIEWS.front;

/** The surface that the map sees from the front is the one that the library's rays meet first. */
function sameSurface(lines: FigureLines, tree: MeshBVH): void {
	const random = seededRandom(3);
	const ray = new Ray();
	ray.direction.set(0, 1, 0);
	let met = 0;
	const [left, low, right, high] = lines.extremes;
	for (let i = 0; i < 500; i++) {
		const x = left[0] + random.next() * (right[0] - left[0]);
		const y = low[1] + random.next() * (high[1] - low[1]);
		ray.origin.set(x, -2000, y);
		const hit = tree.raycastFirst(ray, DoubleSide);
		const depth = lines.grid.depth(x, y);
		if (hit === null ? depth !== -Infinity : !(Math.abs(depth + hit.point.y) < 1e-3))
			throw new Error(`at ${x}, ${y}: ${depth} and ${hit === null ? "nothing" : -hit.point.y} mm`);
		if (hit !== null) met++;
	}
	if (met < 100) throw new Error(`only ${met} of 500 rays met the owl`);
}

export default function* sheetBench(): Iterable<Comparison> {
	const { mesh } = owl();
	const field = finish(principalCurvatures(mesh, buildAdjacency(mesh), 3));
	// A tenth of the ground hatched, as by eye.
	const marked = Uint8Array.from({ length: mesh.positions.length / 3 }, (_, v) => (v % 2000 < 200 ? 1 : 0));
	const grounds: Ground[] = [{ kind: "by eye", at: marked }];
	const prepared = (): Figure => finish(prepareFigure(mesh, field.normals, field, grounds));
	const figure = prepared();
	const { plan } = handPlan({ points: 60, rings: 16 });
	const fonts = readFonts(sheetFonts());
	const scale = mapScale(PAPER_SIZES.A4, plan.stone.extent_mm[0], plan.stone.extent_mm[2]);
	const shown = plan.points.map((point) => ({ point, x: point.model_mm[0], y: point.model_mm[2], visible: true }));
	const view: MapView = { name: "front", words: "Seen from the front", axes: FRONT, face: "front", shown };
	/** Lines without what hides them, numbers, page, SVG. */
	const map = (of: Figure): FigureLines => {
		const lines = finish(drawFigure(of, FRONT, STILL, 0.1 * scale.ratio));
		const pages = mapPages(fonts, plan, view, lines, scale);
		if (pages.map(({ drawing }) => writeSvg(drawing)).join("").length < 50_000) throw new Error("an empty map");
		return lines;
	};
	const triangles = (mesh.triangles.length / 3e6).toFixed(2);
	const against = "three-mesh-bvh MeshBVH, built";
	const theirs = (): MeshBVH => libraryTree(mesh);
	const agree = (ours: unknown, tree: unknown): void => sameSurface(ours as FigureLines, tree as MeshBVH);
	yield {
		name: `map of the owl, 60 numbers, ${triangles} million triangles`,
		against,
		aim: 3,
		ours: () => map(figure),
		theirs,
		agree,
	};
	yield {
		name: "the first map, with what all views share",
		against,
		aim: null,
		ours: () => map(prepared()),
		theirs,
		agree,
	};
}
