/** Drill lines: from the tip at its stop out to the skin, with a short stub in the air where the drill enters. */

import { Color, Group, type Object3D } from "three";
import { LineMaterial } from "three/examples/jsm/lines/LineMaterial.js";
import { LineSegments2 } from "three/examples/jsm/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/examples/jsm/lines/LineSegmentsGeometry.js";
import type { Vec3 } from "../../core/vector.ts";

/** Stone frame, mm. */
export interface DrillLine {
	readonly number: number;
	readonly tip: Vec3;
	readonly entry: Vec3;
	/** Unit, out of the stone. */
	readonly out: Vec3;
}

export interface DrillView {
	readonly object: Object3D;
	setLines(lines: readonly DrillLine[]): void;
	/** Lights one line; null: none. */
	point(line: DrillLine | null): void;
	setColours(colours: { line: string; pointed: string }): void;
	dispose(): void;
}

const STUB_MM = 12;
const POINTED_STUB_MM = 60;

const segment = (line: DrillLine, stub: number): number[] => [
	...line.tip,
	line.entry[0] + stub * line.out[0],
	line.entry[1] + stub * line.out[1],
	line.entry[2] + stub * line.out[2],
];

export function createDrillView(): DrillView {
	const thin = new LineMaterial({ linewidth: 1.1, transparent: true, opacity: 0.6 });
	const strong = new LineMaterial({ linewidth: 3.2, depthTest: false, transparent: true });
	const all = new LineSegments2(new LineSegmentsGeometry(), thin);
	const one = new LineSegments2(new LineSegmentsGeometry(), strong);
	one.renderOrder = 5;
	const group = new Group();
	group.add(all, one);
	const replace = (of: LineSegments2, positions: number[]): void => {
		of.geometry.dispose();
		of.geometry = new LineSegmentsGeometry();
		of.visible = positions.length > 0;
		if (of.visible) of.geometry.setPositions(positions);
	};
	replace(all, []);
	replace(one, []);
	return {
		object: group,
		setLines: (lines) =>
			replace(
				all,
				lines.flatMap((line) => segment(line, STUB_MM)),
			),
		point: (line) => replace(one, line ? segment(line, POINTED_STUB_MM) : []),
		setColours({ line, pointed }) {
			thin.color = new Color(line);
			strong.color = new Color(pointed);
		},
		dispose() {
			for (const of of [all, one]) of.geometry.dispose();
			thin.dispose();
			strong.dispose();
		},
	};
}
