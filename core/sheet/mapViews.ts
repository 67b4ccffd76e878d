/** Which sides of the stone get a map, and on which of them each point is shown. */

import type { FaceName } from "../plan/commission.ts";
import type { Plan, PlanPoint } from "../plan/planFile.ts";
import { SIDE_WORDS } from "../text/sheetWords.ts";
import { along, dot, type Placement, place, turn, type Vec3 } from "../vector.ts";
import { axesTowards, FACE_ORDER, FACE_VIEWS, type ViewAxes } from "./faces.ts";
import { inView } from "./projection.ts";
import type { ScreenGrid } from "./screenGrid.ts";

/** A point on the map of one side. */
export interface ShownPoint {
	readonly point: PlanPoint;
	/** In the view plane, mm: x right, y up. */
	readonly x: number;
	readonly y: number;
	/** False where other parts of the figure stand before it on every map. */
	readonly visible: boolean;
}

export interface MapView {
	/** Of its files: "front", "view-a", … */
	readonly name: string;
	/** As the map is headed. */
	readonly words: string;
	readonly axes: ViewAxes;
	/** null: a view that the carver added. */
	readonly face: FaceName | null;
	readonly shown: ShownPoint[];
}

/** The views that the carver added, without their points. */
export const addedViews = (plan: Plan): Omit<MapView, "shown">[] =>
	plan.sheet.views.map((view, i) => ({
		name: `view-${String.fromCharCode(97 + i)}`,
		words: view.name,
		axes: axesTowards(view.towards as Vec3),
		face: null,
	}));

/** Least cosine between view and drill line for a point to be moved to a map that is not its best. */
const STILL_LEGIBLE = 0.3;
/** A map with fewer points than this share of all is given up when its points are seen elsewhere. */
const SPARSE = 0.05;
/** A target lies on the surface: it counts as seen when nothing stands more than this before it, mm. */
const SKIN = 0.6;

export const placementOf = (plan: Plan): Placement => plan.stone.placement;

/** The way a point wants to be looked at: against its drill line, or its normal where it has none; stone frame. */
const outwardOf = (point: PlanPoint, placement: Placement): Vec3 =>
	point.line ?? turn(placement.rotation, point.normal);

/** An added view shows a point that it looks at nearly as squarely as the point's own map does (difference of cosines). */
const NEARLY_AS_SQUARE = 0.1;

/** A view and what is seen from it. */
export interface Looked {
	readonly view: Omit<MapView, "shown">;
	readonly grid: ScreenGrid;
}

/** The points that an added view shows, `own`: how squarely a point's own map looks at it, −1 where it hides it. */
function shownOnAdded(plan: Plan, { view, grid }: Looked, own: (point: PlanPoint) => number): ShownPoint[] {
	const placement = placementOf(plan);
	return plan.points.flatMap((point) => {
		const facing = dot(view.axes.towards, outwardOf(point, placement));
		if (facing <= 0 || facing < own(point) - NEARLY_AS_SQUARE) return [];
		const [x, y, z] = inView(view.axes, place(placement, along(point.model_mm, point.normal, 0.3)));
		if (grid.covered(x, y, z + SKIN)) return [];
		const [tx, ty] = inView(view.axes, place(placement, point.model_mm));
		return [{ point, x: tx, y: ty, visible: true }];
	});
}

/**
 * Shares the points out: each goes to the map whose direction is nearest its drill line among those on which it is seen; a
 * point that is seen on none goes to the nearest and is shown as hidden. Maps in the order of `FACE_ORDER`, then the added views,
 * which show what they look at nearly as squarely as its own map does, or more so, and take over what would be hidden elsewhere.
 */
export function shareOutPoints(
	plan: Plan,
	gridOf: (face: FaceName) => ScreenGrid,
	added: readonly Looked[] = [],
): MapView[] {
	const placement = placementOf(plan);
	const places = plan.points.map((point) => {
		const outward = outwardOf(point, placement);
		const target = place(placement, along(point.model_mm, point.normal, 0.3));
		const ranked = FACE_ORDER.map((face) => ({ face, facing: dot(FACE_VIEWS[face].towards, outward) }))
			.filter((f) => f.facing > 0)
			.sort((a, b) => b.facing - a.facing || FACE_ORDER.indexOf(a.face) - FACE_ORDER.indexOf(b.face));
		const seenFrom = ranked.filter(({ face }) => {
			const [x, y, z] = inView(FACE_VIEWS[face], target);
			return !gridOf(face).covered(x, y, z + SKIN);
		});
		return { point, target, ranked, seenFrom };
	});
	const facingOn = (p: (typeof places)[number], face: FaceName | null): number =>
		p.ranked.find((f) => f.face === face)?.facing ?? -1;
	let faces = new Set<FaceName>(FACE_ORDER);
	const choose = (p: (typeof places)[number], among: Set<FaceName>): FaceName | null =>
		p.seenFrom.find((f) => among.has(f.face))?.face ?? null;
	// Sparse maps are given up one by one, the emptiest first, as long as none of their points is lost by it.
	for (;;) {
		const counts = FACE_ORDER.filter((f) => faces.has(f)).map((face) => ({
			face,
			of: places.filter((p) => choose(p, faces) === face),
		}));
		const sparse = counts
			.filter((c) => c.of.length <= Math.max(2, SPARSE * places.length))
			.sort((a, b) => a.of.length - b.of.length)
			.find((c) => {
				const without = new Set([...faces].filter((f) => f !== c.face));
				return c.of.every((p) => p.seenFrom.some((f) => without.has(f.face) && f.facing >= STILL_LEGIBLE));
			});
		if (!sparse) break;
		faces = new Set([...faces].filter((f) => f !== sparse.face));
	}
	const own = new Map(places.map((p) => [p.point, facingOn(p, choose(p, faces))]));
	const further: MapView[] = added.map((looked) => ({
		...looked.view,
		shown: shownOnAdded(plan, looked, (point) => own.get(point) ?? -1),
	}));
	const shownFurther = new Set(further.flatMap((view) => view.shown.map((s) => s.point)));
	const views = new Map<FaceName, ShownPoint[]>();
	for (const p of places) {
		const seen = choose(p, faces);
		if (seen === null && shownFurther.has(p.point)) continue;
		const face = seen ?? p.ranked.find((f) => faces.has(f.face))?.face ?? p.ranked[0].face;
		const [x, y] = inView(FACE_VIEWS[face], place(placement, p.point.model_mm));
		const list = views.get(face) ?? [];
		list.push({ point: p.point, x, y, visible: seen !== null });
		views.set(face, list);
	}
	const sides = FACE_ORDER.filter((f) => views.has(f)).map((face) => ({
		name: face,
		words: SIDE_WORDS[face].seen,
		axes: FACE_VIEWS[face],
		face,
		shown: views.get(face) as ShownPoint[],
	}));
	return [...sides, ...further.filter((view) => view.shown.length > 0)];
}

/**
 * On which side of the map the figure's proper left lies, from where its left and right points stand; null when the view does
 * not part them (from the side, or a figure without sides).
 */
export function properLeftSide(shown: readonly ShownPoint[]): "left" | "right" | null {
	const xsOf = (side: PlanPoint["side"]): number[] => shown.filter((s) => s.point.side === side).map((s) => s.x);
	const [left, right] = [xsOf("left"), xsOf("right")];
	// Seen from a flank, a handful of points of the other side says nothing about the map.
	if (Math.min(left.length, right.length) < Math.max(1, 0.2 * shown.length)) return null;
	const mean = (of: number[]): number => of.reduce((sum, x) => sum + x, 0) / of.length;
	const all = [...left, ...right];
	const spread = Math.max(...all) - Math.min(...all);
	const apart = mean(left) - mean(right);
	return Math.abs(apart) < 0.2 * spread ? null : apart < 0 ? "left" : "right";
}
