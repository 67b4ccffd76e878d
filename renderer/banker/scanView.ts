/** The scan as plaster, or coloured by a value at every vertex. */

import {
	BufferAttribute,
	BufferGeometry,
	Color,
	DoubleSide,
	Matrix4,
	Mesh,
	MeshStandardMaterial,
	type Object3D,
} from "three";
import type { Placement } from "../../core/vector.ts";
import type { DisplayMesh } from "../jobs/displayMesh.ts";

/** Colour and ground of every vertex. */
export interface VertexLook {
	/** Linear red, green, blue, 0–65535; 3 a vertex. */
	readonly colours: Uint16Array;
	/** Two flags a vertex, 0 or 255: hatched (by eye), crossed (not reached by any line). */
	readonly hatches: Uint8Array;
}

export interface ScanView {
	readonly object: Object3D;
	setMesh(mesh: DisplayMesh | null): void;
	setLook(look: VertexLook | null): void;
	setPlacement(placement: Placement): void;
	setHatchColours(byEye: string, unreached: string): void;
	dispose(): void;
}

export function createScanView(): ScanView {
	const uniforms = { byEyeColour: { value: new Color() }, unreachedColour: { value: new Color() } };
	const material = new MeshStandardMaterial({ vertexColors: true, roughness: 0.92, metalness: 0, side: DoubleSide });
	// Hatching is laid on the paper, not on the form, so that it looks like the hatching of the printed map.
	material.onBeforeCompile = (shader) => {
		Object.assign(shader.uniforms, uniforms);
		shader.vertexShader = shader.vertexShader
			.replace("#include <common>", "#include <common>\nattribute vec2 hatch;\nvarying vec2 vHatch;")
			.replace("#include <color_vertex>", "#include <color_vertex>\nvHatch = hatch;");
		shader.fragmentShader = shader.fragmentShader
			.replace(
				"#include <common>",
				"#include <common>\nvarying vec2 vHatch;\nuniform vec3 byEyeColour;\nuniform vec3 unreachedColour;",
			)
			.replace(
				"#include <color_fragment>",
				`#include <color_fragment>
				float rising = fract((gl_FragCoord.x + gl_FragCoord.y) / 9.0);
				float falling = fract((gl_FragCoord.x - gl_FragCoord.y) / 9.0);
				if (vHatch.x > 0.5 && rising < 0.34) diffuseColor.rgb = byEyeColour;
				if (vHatch.y > 0.5 && (rising < 0.2 || falling < 0.2)) diffuseColor.rgb = unreachedColour;`,
			);
	};
	const mesh = new Mesh(new BufferGeometry(), material);
	mesh.matrixAutoUpdate = false;
	mesh.visible = false;

	const setLook = (look: VertexLook | null): void => {
		const vertices = mesh.geometry.getAttribute("position")?.count ?? 0;
		const fits = look !== null && look.colours.length === 3 * vertices;
		const colours = fits ? look.colours : new Uint16Array(3 * vertices).fill(PLASTER);
		const hatches = fits ? look.hatches : new Uint8Array(2 * vertices);
		mesh.geometry.setAttribute("color", new BufferAttribute(colours, 3, true));
		mesh.geometry.setAttribute("hatch", new BufferAttribute(hatches, 2, true));
	};

	return {
		object: mesh,
		setMesh(from) {
			mesh.geometry.dispose();
			mesh.geometry = new BufferGeometry();
			mesh.visible = from !== null;
			if (!from) return;
			mesh.geometry.setAttribute("position", new BufferAttribute(from.positions, 3));
			mesh.geometry.setAttribute("normal", new BufferAttribute(from.normals, 3));
			mesh.geometry.setIndex(new BufferAttribute(from.triangles, 1));
			mesh.geometry.computeBoundingSphere();
			setLook(null);
		},
		setLook,
		setPlacement({ rotation: r, translation: t }) {
			mesh.matrix.copy(new Matrix4(r[0], r[1], r[2], t[0], r[3], r[4], r[5], t[1], r[6], r[7], r[8], t[2], 0, 0, 0, 1));
			mesh.matrixWorldNeedsUpdate = true;
		},
		setHatchColours(byEye, unreached) {
			uniforms.byEyeColour.value.set(byEye);
			uniforms.unreachedColour.value.set(unreached);
		},
		dispose() {
			mesh.geometry.dispose();
			material.dispose();
		},
	};
}

/** Linear grey of fresh plaster. */
const PLASTER = Math.round(0.8 * 65535);
