/**
 * The stone: clear edges, faint inner faces, the marked corner in raddle and a rule along the three edges that leave it;
 * natural bed and flaws as planes with chalk hatching; the way from the figure to each face where it is nearest.
 */

import {
	BackSide,
	BufferGeometry,
	CanvasTexture,
	Color,
	DoubleSide,
	Float32BufferAttribute,
	Group,
	Mesh,
	MeshBasicMaterial,
	type Object3D,
	PlaneGeometry,
} from "three";
import { LineMaterial } from "three/examples/jsm/lines/LineMaterial.js";
import { LineSegments2 } from "three/examples/jsm/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/examples/jsm/lines/LineSegmentsGeometry.js";
import { cross, squareTo, unit, type Vec3 } from "../../core/vector.ts";
import { edgesOfFaces, type FaceShown, hatchStrokes, planeWithin, trianglesOfFaces } from "./stoneLines.ts";

/** The stone as the banker draws it, stone frame, mm. */
export interface StoneDrawn {
	/** Sides of a block, or how far an offcut reaches from the origin. */
	readonly extent: Vec3;
	readonly faces: readonly FaceShown[];
	/** A block has a marked corner at the origin and rules along its edges; an offcut has none. */
	readonly isBlock: boolean;
}

/** A plane through the stone. */
export interface PlaneDrawn {
	readonly normal: Vec3;
	readonly offset: number;
	readonly kind: "bed" | "flaw";
}

/** From where the figure comes nearest a face, square to it. */
export interface GapDrawn {
	readonly from: Vec3;
	readonly to: Vec3;
	/** Less than the margin is left, or nothing. */
	readonly short: boolean;
}

export interface StoneView {
	readonly object: Object3D;
	/** The block as it came, behind the stone that is sawn already. */
	setFaint(faint: boolean): void;
	setStone(stone: StoneDrawn | null): void;
	setPlanes(planes: readonly PlaneDrawn[]): void;
	setGaps(gaps: readonly GapDrawn[]): void;
	setColours(colours: { edge: string; face: string; raddle: string; ground: string; chalk: string }): void;
	dispose(): void;
}

const EDGE_WIDTH = 1.7;
const FACE_OPACITY = 0.13;
const RULE_STEP_MM = 50;
/** A stroke of the rule, as a share of the shortest side: long at each 100 mm, short between. */
const LONG_STROKE = 0.055;
const SHORT_STROKE = 0.03;
/** Between the strokes of a flaw's chalk hatching; a bed's are twice as far apart and dashed. */
const HATCH_MM = 12;

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
	const faces = new Mesh(new BufferGeometry(), face);
	const chalk = new LineMaterial({ linewidth: 1.6 });
	const bedChalk = new LineMaterial({ linewidth: 1.2, dashed: true, dashSize: 9, gapSize: 6 });
	const rim = new LineMaterial({ linewidth: 2.2 });
	const veil = new MeshBasicMaterial({ transparent: true, opacity: 0.16, side: DoubleSide, depthWrite: false });
	const gapInk = new LineMaterial({ linewidth: 2, depthTest: false });
	const shortInk = new LineMaterial({ linewidth: 4, depthTest: false });
	const flawHatch = lines(chalk);
	const bedHatch = lines(bedChalk);
	const planeRims = lines(rim);
	const veils = new Mesh(new BufferGeometry(), veil);
	const gapLines = lines(gapInk);
	const shortLines = lines(shortInk);
	const shade = new MeshBasicMaterial({ transparent: true, depthWrite: false, map: softDisc() });
	const ground = new Mesh(new PlaneGeometry(1, 1), shade);
	ground.renderOrder = -2;
	faces.renderOrder = -1;
	const group = new Group();
	const planeGroup = new Group();
	planeGroup.add(veils, flawHatch, bedHatch, planeRims);
	const gapGroup = new Group();
	gapGroup.add(gapLines, shortLines);
	gapGroup.renderOrder = 2;
	group.add(ground, faces, hidden, edges, marked, planeGroup, gapGroup);
	group.visible = false;
	let standing: StoneDrawn | null = null;
	let planes: readonly PlaneDrawn[] = [];

	const replace = (of: LineSegments2, positions: number[]): void => {
		of.geometry.dispose();
		of.geometry = new LineSegmentsGeometry();
		of.visible = positions.length > 0;
		if (positions.length === 0) return;
		of.geometry.setPositions(positions);
		of.computeLineDistances();
	};
	const fill = (of: Mesh, positions: number[]): void => {
		of.geometry.dispose();
		of.geometry = new BufferGeometry();
		of.geometry.setAttribute("position", new Float32BufferAttribute(positions, 3));
	};
	const drawPlanes = (): void => {
		const cut = standing
			? planes.map((plane) => ({ ...plane, outline: planeWithin(standing?.faces ?? [], plane.normal, plane.offset) }))
			: [];
		const seen = cut.filter(({ outline }) => outline.length > 0);
		const hatched = (kind: PlaneDrawn["kind"], apart: number): number[] =>
			seen
				.filter((plane) => plane.kind === kind)
				.flatMap(({ outline, normal }) => {
					const a = squareTo(normal);
					const b = cross(normal, a);
					return hatchStrokes(outline, normal, unit([a[0] + b[0], a[1] + b[1], a[2] + b[2]]), apart);
				});
		replace(flawHatch, hatched("flaw", HATCH_MM));
		replace(bedHatch, hatched("bed", 2 * HATCH_MM));
		replace(
			planeRims,
			seen.flatMap(({ outline }) => outline.flatMap((p, i) => [...p, ...outline[(i + 1) % outline.length]])),
		);
		fill(veils, trianglesOfFaces(seen));
	};

	return {
		object: group,
		setStone(stone) {
			standing = stone;
			group.visible = stone !== null;
			drawPlanes();
			if (!stone) return;
			const [x, y, z] = stone.extent;
			const shortest = Math.min(x, y, z);
			const stroke = LONG_STROKE * shortest;
			const outlines = edgesOfFaces(stone.faces);
			const rules = stone.isBlock
				? [...ruleStrokes(0, 2, x, stroke), ...ruleStrokes(1, 2, y, stroke), ...ruleStrokes(2, 0, z, stroke)]
				: [];
			replace(edges, [...outlines, ...rules]);
			replace(hidden, outlines);
			const c = 0.14 * shortest;
			replace(marked, stone.isBlock ? [0, 0, 0, c, 0, 0, 0, 0, 0, 0, c, 0, 0, 0, 0, 0, 0, c] : []);
			fill(faces, trianglesOfFaces(stone.faces));
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
		setPlanes(next) {
			planes = next;
			drawPlanes();
		},
		setGaps(gaps) {
			const strokes = (short: boolean): number[] =>
				gaps.filter((gap) => gap.short === short).flatMap(({ from, to }) => [...from, ...to]);
			replace(gapLines, strokes(false));
			replace(shortLines, strokes(true));
		},
		setColours(colours) {
			edge.color = new Color(colours.edge);
			hiddenEdge.color = new Color(colours.edge);
			face.color = new Color(colours.face);
			corner.color = new Color(colours.raddle);
			shade.color = new Color(colours.ground);
			for (const one of [chalk, bedChalk, rim]) one.color = new Color(colours.chalk);
			veil.color = new Color(colours.chalk);
			gapInk.color = new Color(colours.edge);
			shortInk.color = new Color(colours.raddle);
		},
		dispose() {
			const drawn = [edges, hidden, marked, flawHatch, bedHatch, planeRims, veils, gapLines, shortLines, faces];
			for (const one of drawn) one.geometry.dispose();
			const inks = [edge, hiddenEdge, corner, face, shade, chalk, bedChalk, rim, veil, gapInk, shortInk];
			for (const one of inks) one.dispose();
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
