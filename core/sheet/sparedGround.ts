/** Stone that no drill may touch, hatched on the maps: bridges until their round, and the bosses under the seats. */

import { BOSS_RADIUS } from "../datum/bosses.ts";
import { distanceOfSegments } from "../drilling/crossings.ts";
import type { Plan, PlanPoint } from "../plan/planFile.ts";
import { along, type Vec3 } from "../vector.ts";
import { type Drawing, disc, line } from "./drawing.ts";
import { shownSets, type ViewAxes } from "./faces.ts";
import { type GroundKind, HATCHES, hatchWhere } from "./hatching.ts";
import type { ToPaper } from "./mapPicture.ts";
import { inView } from "./projection.ts";

/** The seat whose boss the hole of a point runs into, or null. */
export function bossInTheWay(plan: Plan, p: PlanPoint): string | null {
	if (p.entry_mm === null || p.line === null || p.depth_mm === null) return null;
	const reach = BOSS_RADIUS + plan.rounds[p.round].tool.radius_mm;
	const tip = along(p.entry_mm, p.line, -p.depth_mm);
	for (const { datums } of shownSets(plan))
		for (const d of datums) if (distanceOfSegments(tip, p.entry_mm, d.foot_mm, d.stone_mm) < reach) return d.name;
	return null;
}

interface Spared {
	readonly kind: GroundKind;
	/** Stone frame, mm. */
	readonly from: Vec3;
	readonly to: Vec3;
	readonly radius: number;
}

const sparedIn = (plan: Plan): Spared[] => [
	...plan.bridges.map((b): Spared => ({ kind: "bridge", from: b.from_mm, to: b.to_mm, radius: b.radius_mm })),
	...shownSets(plan).flatMap((set) =>
		set.datums.map((d): Spared => ({ kind: "do not drill", from: d.foot_mm, to: d.stone_mm, radius: BOSS_RADIUS })),
	),
];

/** Draws what is spared as it lies in the view, whatever stands before it, and says which kinds there are. */
export function drawSpared(on: Drawing, plan: Plan, axes: ViewAxes, ratio: number, toPaper: ToPaper): GroundKind[] {
	const kinds = new Set<GroundKind>();
	for (const { kind, from, to, radius } of sparedIn(plan)) {
		kinds.add(kind);
		const { slopes, spacing, pen } = HATCHES[kind];
		const [ax, ay] = inView(axes, from);
		const [bx, by] = inView(axes, to);
		const [dx, dy] = [bx - ax, by - ay];
		const long2 = dx * dx + dy * dy;
		const inside = (x: number, y: number): boolean => {
			const s = long2 > 0 ? Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / long2)) : 0;
			const [ex, ey] = [ax + s * dx - x, ay + s * dy - y];
			return ex * ex + ey * ey <= radius * radius;
		};
		const within = [
			Math.min(ax, bx) - radius,
			Math.min(ay, by) - radius,
			Math.max(ax, bx) + radius,
			Math.max(ay, by) + radius,
		] as const;
		const lines = slopes.flatMap((s) => hatchWhere(inside, s, spacing * ratio, within));
		on.shapes.push({
			kind: "lines",
			lines: lines.map(([x0, y0, x1, y1]) => [...toPaper(x0, y0), ...toPaper(x1, y1)]),
			pen,
		});
		outline(on, toPaper(ax, ay), toPaper(bx, by), radius / ratio, pen);
	}
	return [...kinds];
}

function outline(
	on: Drawing,
	[ax, ay]: readonly [number, number],
	[bx, by]: readonly [number, number],
	radius: number,
	pen: { colour: string; width: number },
): void {
	const rim = { ...pen, width: 0.25 };
	disc(on, ax, ay, radius, { pen: rim });
	const long = Math.sqrt((bx - ax) * (bx - ax) + (by - ay) * (by - ay));
	if (long === 0) return;
	disc(on, bx, by, radius, { pen: rim });
	const [nx, ny] = [(-(by - ay) * radius) / long, ((bx - ax) * radius) / long];
	line(on, rim, ax + nx, ay + ny, bx + nx, by + ny);
	line(on, rim, ax - nx, ay - ny, bx - nx, by - ny);
}
