/** The stone under the saw on the banker: as it stands, the piece that comes off, kerfs of stop cuts, bridges. Stone frame. */

import {
	BufferAttribute,
	BufferGeometry,
	CapsuleGeometry,
	Color,
	DoubleSide,
	Group,
	Mesh,
	MeshBasicMaterial,
	type Object3D,
	Quaternion,
	Vector3,
} from "three";
import { LineMaterial } from "three/examples/jsm/lines/LineMaterial.js";
import { LineSegments2 } from "three/examples/jsm/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/examples/jsm/lines/LineSegmentsGeometry.js";
import type { Vec3 } from "../../core/vector.ts";
import type { CutScene } from "./cutScene.ts";

export interface CutView {
	readonly object: Object3D;
	/** null: nothing is sawn and nothing kept. */
	setScene(scene: CutScene | null): void;
	setColours(colours: { edge: string; raddle: string }): void;
	dispose(): void;
}

const flat = (places: readonly Vec3[]): number[] => places.flatMap((place) => [...place]);

export function createCutView(): CutView {
	const edge = new LineMaterial({ linewidth: 2.2 });
	const hiddenEdge = new LineMaterial({ linewidth: 1, transparent: true, opacity: 0.22, depthTest: false });
	const cut = new LineMaterial({ linewidth: 3.2 });
	const hiddenCut = new LineMaterial({ linewidth: 1.6, transparent: true, opacity: 0.4, depthTest: false });
	const piece = new MeshBasicMaterial({ transparent: true, opacity: 0.3, side: DoubleSide, depthWrite: false });
	const kept = new MeshBasicMaterial({ transparent: true, opacity: 0.45, depthWrite: false });
	const lines = [edge, hiddenEdge, cut, hiddenCut].map(
		(material) => new LineSegments2(new LineSegmentsGeometry(), material),
	);
	const pieceMesh = new Mesh(new BufferGeometry(), piece);
	pieceMesh.renderOrder = 3;
	const bridges = new Group();
	const group = new Group();
	group.add(...lines, pieceMesh, bridges);
	group.visible = false;
	const put = (of: LineSegments2, places: readonly Vec3[]): void => {
		of.geometry.dispose();
		of.geometry = new LineSegmentsGeometry();
		of.visible = places.length > 0;
		if (places.length > 0) of.geometry.setPositions(flat(places));
	};
	const clearBridges = (): void => {
		for (const one of bridges.children as Mesh[]) one.geometry.dispose();
		bridges.clear();
	};
	return {
		object: group,
		setScene(scene) {
			group.visible = scene !== null;
			clearBridges();
			if (!scene) return;
			put(lines[0], scene.edges);
			put(lines[1], scene.edges);
			put(lines[2], scene.cut);
			put(lines[3], scene.cut);
			pieceMesh.geometry.dispose();
			pieceMesh.geometry = new BufferGeometry();
			pieceMesh.visible = scene.piece.length > 0;
			pieceMesh.geometry.setAttribute("position", new BufferAttribute(Float32Array.from(flat(scene.piece)), 3));
			for (const { from, to, radius } of scene.bridges) {
				const way = new Vector3(...to).sub(new Vector3(...from));
				const one = new Mesh(new CapsuleGeometry(radius, way.length(), 6, 16), kept);
				one.position.copy(new Vector3(...from).addScaledVector(way, 0.5));
				if (way.length() > 0)
					one.quaternion.copy(new Quaternion().setFromUnitVectors(new Vector3(0, 1, 0), way.clone().normalize()));
				one.renderOrder = 4;
				bridges.add(one);
			}
		},
		setColours(colours) {
			for (const material of [edge, hiddenEdge]) material.color = new Color(colours.edge);
			for (const material of [cut, hiddenCut, piece, kept]) material.color = new Color(colours.raddle);
		},
		dispose() {
			for (const one of lines) one.geometry.dispose();
			pieceMesh.geometry.dispose();
			clearBridges();
			for (const one of [edge, hiddenEdge, cut, hiddenCut, piece, kept]) one.dispose();
		},
	};
}
