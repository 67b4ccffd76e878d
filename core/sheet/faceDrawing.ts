/**
 * A face of the stone laid flat as it is seen from outside, v upwards: sawn, broken, measured or left by a cut. Where u × v
 * looks into the stone u runs to the left (handbook 16).
 */

import type { Plan } from "../plan/planFile.ts";
import { cross, dot, type Vec3 } from "../vector.ts";
import { arrow, type Drawing, disc, polygon, text } from "./drawing.ts";
import type { ViewAxes } from "./faces.ts";
import { hatchWhere } from "./hatching.ts";
import { isInOutline, onItsAxes, sawnGround, zeroGoneWords } from "./sawnGround.ts";
import { body, PAPER, RADDLE, SLATE } from "./style.ts";

export type PlanFace = Plan["stone"]["faces"][number];

/** Every face that a drill may enter: those of the stone as it came, and those that its cuts leave. */
export function facesOf(plan: Plan): PlanFace[] {
	const came = plan.stone.faces;
	const left = (plan.afterCuts?.faces ?? []).filter((face) => !came.some((f) => f.name === face.name));
	return [...came, ...left];
}

export const faceNamed = (plan: Plan, name: string | null): PlanFace | null =>
	facesOf(plan).find((face) => face.name === name) ?? null;

/** mm of the stone; x right and y up from the zero corner. */
export interface LaidFace {
	readonly name: string;
	/** 1: u runs to the viewer's right; −1: to the left. */
	readonly right: 1 | -1;
	readonly corners: readonly (readonly [number, number])[];
	/** Least x and y of the corners. */
	readonly low: readonly [number, number];
	readonly width: number;
	readonly height: number;
	/** False where the zero corner is broken away: it is where the edges would meet. */
	readonly zeroStands: boolean;
	/** True where the stone's marked corner (the origin of the stone frame) is the zero corner of this face. */
	readonly holdsMarkedCorner: boolean;
	/** What the cuts leave of it, and the cut that takes its zero corner; null where they take nothing. */
	readonly sawn: { readonly left: readonly (readonly [number, number])[]; readonly zeroBy: string | null } | null;
}

/** A zero corner within this of the stone's origin is the marked corner, mm. */
const SAME_PLACE = 1e-3;
/** Cosine under which a face is seen edge on. */
const EDGE_ON = 1e-6;

export function layFlat(plan: Plan, face: PlanFace): LaidFace {
	const origin = face.origin_mm as Vec3;
	const right = dot(cross(face.u, face.v), face.normal) > 0 ? 1 : -1;
	const laid = (at: readonly Vec3[]) => onItsAxes(face, at).map(([u, v]) => [right * u, v] as const);
	const corners = laid(face.outline_mm);
	const ground = sawnGround(plan, face);
	const low = [Math.min(...corners.map((c) => c[0])), Math.min(...corners.map((c) => c[1]))] as const;
	return {
		name: face.name,
		right,
		corners,
		low,
		width: Math.max(...corners.map((c) => c[0])) - low[0],
		height: Math.max(...corners.map((c) => c[1])) - low[1],
		zeroStands: corners.some(([x, y]) => Math.abs(x) < SAME_PLACE && Math.abs(y) < SAME_PLACE),
		holdsMarkedCorner: origin.every((c) => Math.abs(c) < SAME_PLACE),
		sawn: ground && { left: laid(ground.left), zeroBy: ground.zeroBy },
	};
}

/**
 * The edges of the faces that are turned to the viewer, closed outlines in the view (x, y of each corner, mm): what shows of
 * the stone where it is no plain block, and null where it is one.
 */
export function edgesSeen(plan: Plan, view: ViewAxes): readonly Float64Array[] | null {
	if (plan.stone.planes === null) return null;
	return plan.stone.faces.flatMap(({ normal, outline_mm: outline }) => {
		if (!(dot(normal, view.towards) > EDGE_ON)) return [];
		return [Float64Array.from([...outline, outline[0]].flatMap((at) => [dot(view.right, at), dot(view.up, at)]))];
	});
}

export const uRuns = (flat: LaidFace): "right" | "left" => (flat.right > 0 ? "right" : "left");

/** "front face", or the name of a cut or a broken corner, which is a face already. */
export const faceWords = (name: string): string => (/ /.test(name) ? name : `${name} face`);

/** Between the lines over what is sawn off, mm of paper. */
const SAWN_SPACING = 1.5;

/** Hatches what the cuts take of the face, and draws the edge of what they leave. */
export function drawSawn(
	on: Drawing,
	{ sawn, corners, low, width, height }: LaidFace,
	put: (x: number, y: number) => readonly [number, number],
	scale: number,
): void {
	if (sawn === null) return;
	const goes = (x: number, y: number): boolean => isInOutline(corners, x, y) && !isInOutline(sawn.left, x, y);
	const lines = hatchWhere(goes, 1, SAWN_SPACING / scale, [low[0], low[1], low[0] + width, low[1] + height]);
	on.shapes.push({
		kind: "lines",
		lines: lines.map(([x0, y0, x1, y1]) => [...put(x0, y0), ...put(x1, y1)]),
		pen: { colour: SLATE, width: 0.16 },
	});
	if (sawn.left.length > 2)
		polygon(
			on,
			sawn.left.flatMap(([x, y]) => put(x, y)),
			{ pen: { colour: SLATE, width: 0.3 } },
		);
}

/** What a drawing of the face has to say of where it is measured from. */
export function zeroWords({ sawn, holdsMarkedCorner, zeroStands }: LaidFace): string {
	if (sawn?.zeroBy) return zeroGoneWords(sawn.zeroBy);
	if (holdsMarkedCorner) return "zero: the marked corner";
	return zeroStands ? "zero of this face: red" : "zero: red, where the edges would meet";
}

/** Place of (u, v) on the paper. */
export type OnFace = (u: number, v: number) => readonly [number, number];

/**
 * Draws the face with the lower left corner of its frame at (x, foot), `scale` mm of paper to the mm of stone; its zero corner
 * and the arrows in red, which stand `off` mm beside it and are `reach` mm long at most.
 */
export function drawFace(
	on: Drawing,
	flat: LaidFace,
	x: number,
	foot: number,
	scale: number,
	{ off, reach: most }: { readonly off: number; readonly reach: number },
): OnFace {
	const { right, low } = flat;
	const put = (px: number, py: number): readonly [number, number] => [
		x + (px - low[0]) * scale,
		foot - (py - low[1]) * scale,
	];
	const outline = flat.corners.flatMap(([px, py]) => put(px, py));
	polygon(on, outline, { pen: { colour: SLATE, width: 0.3 }, fill: PAPER });
	drawSawn(on, flat, put, scale);
	const [zx, zy] = put(0, 0);
	disc(on, zx, zy, 0.4 * off, { fill: RADDLE });
	const pen = { colour: RADDLE, width: 0.35 };
	const look = { ...body, bold: true, colour: RADDLE };
	const reach = Math.min(most, flat.width * scale * 0.7, flat.height * scale * 0.7);
	arrow(on, pen, zx, zy + off, zx + right * reach, zy + off, 2);
	text(on, zx + right * (reach + 1.3), zy + off + 1.1, "u", { ...look, anchor: right > 0 ? "start" : "end" });
	// Beside the whole face, which may reach past its zero corner.
	const vx = right > 0 ? x - off : x + flat.width * scale + off;
	arrow(on, pen, vx, zy, vx, zy - reach, 2);
	text(on, vx, zy - reach - 1.2, "v", { ...look, anchor: "middle" });
	return (u, v) => put(right * u, v);
}
