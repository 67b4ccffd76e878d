/** The block: clear edges, faint inner faces, the marked corner in raddle and a rule along the three edges that leave it. */

import {
	BackSide,
	BoxGeometry,
	CanvasTexture,
	Color,
	Group,
	Mesh,
	MeshBasicMaterial,
	type Object3D,
	PlaneGeometry,
} from "three";
import { LineMaterial } from "three/examples/jsm/lines/LineMaterial.js";
import { LineSegments2 } from "three/examples/jsm/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/examples/jsm/lines/LineSegmentsGeometry.js";
import type { Vec3 } from "../../core/vector.ts";

export interface StoneView {
	readonly object: Object3D;
	/** Sides in mm, or null for no stone. */
	setBlock(block: Vec3 | null): void;
	/** The block as it came, behind the stone that is sawn already. */
	setFaint(faint: boolean): void;
	setColours(colours: { edge: string; face: string; raddle: string; ground: string }): void;
	dispose(): void;
}

const EDGE_WIDTH = 1.7;
const FACE_OPACITY = 0.13;
const RULE_STEP_MM = 50;
/** A stroke of the rule, as a share of the shortest side: long at each 100 mm, short between. */
const LONG_STROKE = 0.055;
const SHORT_STROKE = 0.03;

/** The rule's strokes for an edge of `length` along axis `along`, laid into the face towards axis `into`. */
function ruleStrokes(along: number, into: number, length: number, stroke: number): number[] {
	const strokes: number[] = [];
	for (let at = RULE_STEP_MM; at < length; at += RULE_STEP_MM) {
		const from = [0, 0, 0];
		from[along] = at;
		const until = [...from];
		until[into] = stroke * (at % (2 * RULE_STEP_MM) === 0 ? 1 : SHORT_STROKE / LONG_STROKE);
		strokes.push(...from, ...until);
	}
	return strokes;
}

function edgesOf([x, y, z]: Vec3): number[] {
	const corners = [0, 1, 2, 3, 4, 5, 6, 7].map((i) => [i & 1 ? x : 0, i & 2 ? y : 0, i & 4 ? z : 0]);
	const edges: number[] = [];
	for (let i = 0; i < 8; i++)
		for (const bit of [1, 2, 4]) if (!(i & bit)) edges.push(...corners[i], ...corners[i | bit]);
	return edges;
}

const lines = (material: LineMaterial): LineSegments2 => new LineSegments2(new LineSegmentsGeometry(), material);

export function createStoneView(): StoneView {
	const edge = new LineMaterial({ linewidth: EDGE_WIDTH });
	// What the figure hides of the edges stays faintly there, so that the block reads as one.
	const hiddenEdge = new LineMaterial({ linewidth: 1, transparent: true, opacity: 0.28, depthTest: false });
	const corner = new LineMaterial({ linewidth: 4.5 });
	const edges = lines(edge);
	const hidden = lines(hiddenEdge);
	const marked = lines(corner);
	const face = new MeshBasicMaterial({ transparent: true, opacity: FACE_OPACITY, side: BackSide, depthWrite: false });
	const faces = new Mesh(new BoxGeometry(1, 1, 1), face);
	const shade = new MeshBasicMaterial({ transparent: true, depthWrite: false, map: softDisc() });
	const ground = new Mesh(new PlaneGeometry(1, 1), shade);
	ground.renderOrder = -2;
	faces.renderOrder = -1;
	const group = new Group();
	group.add(ground, faces, hidden, edges, marked);
	group.visible = false;

	return {
		object: group,
		setBlock(block) {
			group.visible = block !== null;
			if (!block) return;
			const [x, y, z] = block;
			const shortest = Math.min(x, y, z);
			const stroke = LONG_STROKE * shortest;
			const drawn = [
				...edgesOf(block),
				...ruleStrokes(0, 2, x, stroke),
				...ruleStrokes(1, 2, y, stroke),
				...ruleStrokes(2, 0, z, stroke),
			];
			const replace = (of: LineSegments2, positions: number[]): void => {
				of.geometry.dispose();
				of.geometry = new LineSegmentsGeometry();
				of.geometry.setPositions(positions);
			};
			replace(edges, drawn);
			replace(hidden, edgesOf(block));
			const c = 0.14 * shortest;
			replace(marked, [0, 0, 0, c, 0, 0, 0, 0, 0, 0, c, 0, 0, 0, 0, 0, 0, c]);
			faces.scale.set(x, y, z);
			faces.position.set(x / 2, y / 2, z / 2);
			const wide = 2.1 * Math.max(x, y);
			ground.scale.set(wide, wide, 1);
			ground.position.set(x / 2, y / 2, -0.001 * z);
		},
		setFaint(faint) {
			edge.linewidth = faint ? 0.8 : EDGE_WIDTH;
			edge.transparent = faint;
			edge.opacity = faint ? 0.45 : 1;
			face.opacity = faint ? 0.05 : FACE_OPACITY;
			hidden.visible = !faint;
		},
		setColours(colours) {
			edge.color = new Color(colours.edge);
			hiddenEdge.color = new Color(colours.edge);
			face.color = new Color(colours.face);
			corner.color = new Color(colours.raddle);
			shade.color = new Color(colours.ground);
		},
		dispose() {
			for (const one of [edges, hidden, marked]) one.geometry.dispose();
			for (const one of [edge, hiddenEdge, corner, face, shade]) one.dispose();
			faces.geometry.dispose();
			ground.geometry.dispose();
			shade.map?.dispose();
		},
	};
}

/** A disc that fades out, for the shade under the stone. */
function softDisc(): CanvasTexture {
	const canvas = document.createElement("canvas");
	canvas.width = 128;
	canvas.height = 128;
	const pen = canvas.getContext("2d") as CanvasRenderingContext2D;
	const fade = pen.createRadialGradient(64, 64, 8, 64, 64, 64);
	fade.addColorStop(0, "rgba(255,255,255,0.55)");
	fade.addColorStop(0.55, "rgba(255,255,255,0.28)");
	fade.addColorStop(1, "rgba(255,255,255,0)");
	pen.fillStyle = fade;
	pen.fillRect(0, 0, 128, 128);
	return new CanvasTexture(canvas);
}
