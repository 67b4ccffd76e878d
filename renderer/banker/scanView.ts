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
	Plane,
	Vector3,
} from "three";
import type { Placement, Vec3 } from "../../core/vector.ts";
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
	/** Colour of what a plane cuts open. */
	setCutColour(colour: string): void;
	/** Takes away what lies beyond the plane, the frame that is shown: kept is n·x ≤ offset. null: the model is whole. */
	setCut(cut: ScanCut | null): void;
	/** Triangles of a coarser stand-in over the same vertices, or null. */
	setCoarse(triangles: Uint32Array<ArrayBuffer> | null): void;
	/** While it moves the stand-in is drawn, where there is one. */
	setMoving(moving: boolean): void;
	dispose(): void;
}

export interface ScanCut {
	/** Unit, out of what is kept. */
	readonly normal: Vec3;
	readonly offset: number;
}

export function createScanView(): ScanView {
	const uniforms = {
		byEyeColour: { value: new Color() },
		unreachedColour: { value: new Color() },
		cutColour: { value: new Color() },
		isCut: { value: false },
	};
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
				"#include <common>\nvarying vec2 vHatch;\nuniform vec3 byEyeColour;\nuniform vec3 unreachedColour;\nuniform vec3 cutColour;\nuniform bool isCut;",
			)
			.replace(
				"#include <color_fragment>",
				`#include <color_fragment>
				float rising = fract((gl_FragCoord.x + gl_FragCoord.y) / 9.0);
				float falling = fract((gl_FragCoord.x - gl_FragCoord.y) / 9.0);
				if (vHatch.x > 0.5 && rising < 0.34) diffuseColor.rgb = byEyeColour;
				if (vHatch.y > 0.5 && (rising < 0.2 || falling < 0.2)) diffuseColor.rgb = unreachedColour;`,
			)
			// The inside, seen through the cut, is drawn flat in one colour, as if the cut were a face.
			.replace(
				"#include <opaque_fragment>",
				"#include <opaque_fragment>\nif (isCut && !gl_FrontFacing) gl_FragColor = vec4(cutColour, 1.0);",
			);
	};
	let full = new BufferGeometry();
	let coarse: BufferGeometry | null = null;
	const mesh = new Mesh(full, material);
	mesh.matrixAutoUpdate = false;
	mesh.visible = false;

	const setCoarse = (triangles: Uint32Array<ArrayBuffer> | null): void => {
		coarse?.dispose();
		coarse = null;
		if (triangles === null) return;
		coarse = new BufferGeometry();
		coarse.setIndex(new BufferAttribute(triangles, 1));
		// Positions, normals and colours are the full model's own: only the triangles differ.
		for (const [name, attribute] of Object.entries(full.attributes)) coarse.setAttribute(name, attribute);
		coarse.boundingSphere = full.boundingSphere;
	};

	const setLook = (look: VertexLook | null): void => {
		const vertices = full.getAttribute("position")?.count ?? 0;
		const fits = look !== null && look.colours.length === 3 * vertices;
		const colours = fits ? look.colours : new Uint16Array(3 * vertices).fill(PLASTER);
		const hatches = fits ? look.hatches : new Uint8Array(2 * vertices);
		for (const [name, attribute] of [
			["color", new BufferAttribute(colours, 3, true)],
			["hatch", new BufferAttribute(hatches, 2, true)],
		] as const) {
			full.setAttribute(name, attribute);
			coarse?.setAttribute(name, attribute);
		}
	};

	return {
		object: mesh,
		setMesh(from) {
			full.dispose();
			full = new BufferGeometry();
			mesh.geometry = full;
			setCoarse(null);
			mesh.visible = from !== null;
			if (!from) return;
			full.setAttribute("position", new BufferAttribute(from.positions, 3));
			full.setAttribute("normal", new BufferAttribute(from.normals, 3));
			full.setIndex(new BufferAttribute(from.triangles, 1));
			full.computeBoundingSphere();
			setLook(null);
		},
		setLook,
		setCoarse,
		setMoving(moving) {
			mesh.geometry = (moving && coarse) || full;
		},
		setCutColour(colour) {
			uniforms.cutColour.value.set(colour);
		},
		setCut(cut) {
			uniforms.isCut.value = cut !== null;
			// three keeps what lies on the side that the plane's normal points to.
			material.clippingPlanes = cut && [
				new Plane(new Vector3(-cut.normal[0], -cut.normal[1], -cut.normal[2]), cut.offset),
			];
		},
		setPlacement({ rotation: r, translation: t }) {
			mesh.matrix.copy(new Matrix4(r[0], r[1], r[2], t[0], r[3], r[4], r[5], t[1], r[6], r[7], r[8], t[2], 0, 0, 0, 1));
			mesh.matrixWorldNeedsUpdate = true;
		},
		setHatchColours(byEye, unreached) {
			uniforms.byEyeColour.value.set(byEye);
			uniforms.unreachedColour.value.set(unreached);
		},
		dispose() {
			full.dispose();
			coarse?.dispose();
			material.dispose();
		},
	};
}

/** Linear grey of fresh plaster. */
const PLASTER = Math.round(0.8 * 65535);
