/** What is looked at among the findings of a scan: its edges in raddle, faint where the surface hides them. */

import { Color, Group, Matrix4, type Object3D } from "three";
import { LineMaterial } from "three/examples/jsm/lines/LineMaterial.js";
import { LineSegments2 } from "three/examples/jsm/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/examples/jsm/lines/LineSegmentsGeometry.js";
import type { Placement } from "../../core/vector.ts";

export interface StopView {
	readonly object: Object3D;
	/** Ends of lines, model frame; null: nothing. */
	setLines(lines: Float32Array | null): void;
	setPlacement(placement: Placement): void;
	setColour(colour: string): void;
	dispose(): void;
}

/** How much of a line shows through the surface. */
const THROUGH = 0.3;

export function createStopView(): StopView {
	const seen = new LineMaterial({ linewidth: 2.6, transparent: true, depthWrite: false });
	// The edges lie in the surface itself, which would swallow half of each.
	seen.polygonOffset = true;
	seen.polygonOffsetFactor = -2;
	seen.polygonOffsetUnits = -2;
	const hidden = new LineMaterial({ linewidth: 2, transparent: true, opacity: THROUGH, depthTest: false });
	let geometry = new LineSegmentsGeometry();
	const under = new LineSegments2(geometry, hidden);
	const over = new LineSegments2(geometry, seen);
	under.renderOrder = 5;
	over.renderOrder = 6;
	const group = new Group();
	group.add(under, over);
	group.matrixAutoUpdate = false;
	group.visible = false;
	return {
		object: group,
		setLines(lines) {
			geometry.dispose();
			geometry = new LineSegmentsGeometry();
			group.visible = lines !== null && lines.length > 0;
			if (group.visible && lines) geometry.setPositions(lines);
			under.geometry = geometry;
			over.geometry = geometry;
		},
		setPlacement({ rotation: r, translation: t }) {
			group.matrix.copy(
				new Matrix4(r[0], r[1], r[2], t[0], r[3], r[4], r[5], t[1], r[6], r[7], r[8], t[2], 0, 0, 0, 1),
			);
			group.matrixWorldNeedsUpdate = true;
		},
		setColour(colour) {
			seen.color = new Color(colour);
			hidden.color = new Color(colour);
		},
		dispose() {
			geometry.dispose();
			seen.dispose();
			hidden.dispose();
		},
	};
}
