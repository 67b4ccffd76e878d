/** The scan as plaster, or coloured by a value at every vertex. */

import {
	Box3,
	BufferAttribute,
	BufferGeometry,
	Color,
	DoubleSide,
	Group,
	Matrix4,
	Mesh,
	MeshStandardMaterial,
	type Object3D,
	Plane,
	Sphere,
	Vector3,
} from "three";
import type { Placement, Vec3 } from "../../core/vector.ts";
import type { DisplayMesh, DisplayPiece } from "../jobs/displayMesh.ts";
import { type Piece, takeFrom } from "../jobs/pieces.ts";
import type { Bounds } from "./bounds.ts";
import type { VertexLook } from "./vertexLook.ts";

export interface ScanView {
	readonly object: Object3D;
	setMesh(mesh: DisplayMesh | null): void;
	setLook(look: VertexLook | null): void;
	/**
	 * Makes and paints some of what waits for it and puts it on the layer TOUCHED, from where the stand hands it to the
	 * graphics; a great scan handed over in one frame would hold the window up. True while more waits: then once more in
	 * the next frame. New pieces are shown together when the last of them is there.
	 */
	settle(): boolean;
	setPlacement(placement: Placement): void;
	setHatchColours(byEye: string, unreached: string): void;
	/** Colour of what a plane cuts open. */
	setCutColour(colour: string): void;
	/** Takes away what lies beyond the plane, the frame that is shown: kept is n·x ≤ offset. null: the model is whole. */
	setCut(cut: ScanCut | null): void;
	/** A coarser stand-in over the same vertices, or null. */
	setCoarse(pieces: readonly Piece[] | null): void;
	/** While it moves the stand-in is drawn, where there is one. */
	setMoving(moving: boolean): void;
	dispose(): void;
}

export interface ScanCut {
	/** Unit, out of what is kept. */
	readonly normal: Vec3;
	readonly offset: number;
}

/** The layer of what is only handed to the graphics, beside layer 0 of what is shown. */
export const TOUCHED = 1;
/** Some three megabytes for the graphics; a scan of 1.6 million triangles is there within twenty frames. */
const PIECES_A_FRAME = 2;

/** A piece on the banker. */
interface Shown {
	/** Which of the mesh's vertices its own are. */
	readonly vertices: Uint32Array;
	readonly mesh: Mesh;
	readonly colours: BufferAttribute;
	readonly hatches: BufferAttribute;
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
	const [full, coarse] = [new Group(), new Group()];
	coarse.visible = false;
	const both = new Group();
	both.matrixAutoUpdate = false;
	both.add(full, coarse);
	// Something to draw from the first frame on, so that the shaders are there before the first scan is.
	const first = shownOf(NOTHING, material, new Sphere());
	full.add(first.mesh);
	const shown = new Map<Group, Shown[]>([
		[full, [first]],
		[coarse, []],
	]);
	/** Still to be made, and made but to be painted anew. */
	let coming: { readonly group: Group; readonly make: () => DisplayPiece }[] = [];
	let waiting: Shown[] = [first];
	let touched: readonly Shown[] = [];
	let unshown: Shown[] = [];
	let scan: DisplayMesh | null = null;
	let around = new Sphere();
	let look: VertexLook | null = null;
	let isMoving = false;

	const clear = (group: Group): void => {
		for (const { mesh } of shown.get(group) ?? []) {
			group.remove(mesh);
			mesh.geometry.dispose();
		}
		const gone = new Set(shown.get(group));
		waiting = waiting.filter((piece) => !gone.has(piece));
		unshown = unshown.filter((piece) => !gone.has(piece));
		coming = coming.filter((piece) => piece.group !== group);
		shown.set(group, []);
	};
	const chooseShown = (): void => {
		const there = shown.get(coarse) as Shown[];
		const ready = there.length > 0 && there.every((piece) => !unshown.includes(piece));
		coarse.visible = isMoving && ready;
		full.visible = !coarse.visible;
	};

	return {
		object: both,
		setMesh(from) {
			// The first piece stays until there is a scan.
			if (!from && !scan) return;
			clear(full);
			clear(coarse);
			look = null;
			scan = from;
			if (from) {
				around = sphereAround(from.bounds);
				coming = from.pieces.map((piece) => ({ group: full, make: () => piece }));
			}
			chooseShown();
		},
		setLook(next) {
			look = next !== null && scan !== null && 3 * next.vertices === scan.positions.length ? next : null;
			// What waited already comes first: under a brush a new look comes with every frame.
			if (scan) waiting = [...new Set([...waiting, ...[...shown.values()].flat()])];
		},
		setCoarse(pieces) {
			clear(coarse);
			const on = scan;
			if (pieces && on)
				coming.push(
					...pieces.map((piece) => ({ group: coarse, make: () => takeFrom(on.positions, on.normals, piece) })),
				);
			chooseShown();
		},
		settle() {
			for (const { mesh } of touched) mesh.layers.disable(TOUCHED);
			const made = coming.splice(0, PIECES_A_FRAME).map(({ group, make }) => {
				const piece = shownOf(make(), material, around);
				piece.mesh.layers.disableAll();
				group.add(piece.mesh);
				shown.get(group)?.push(piece);
				return piece;
			});
			unshown.push(...made);
			touched = [...made, ...waiting.splice(0, PIECES_A_FRAME - made.length)];
			for (const piece of touched) {
				paint(piece, look);
				piece.mesh.layers.enable(TOUCHED);
			}
			if (touched.length > 0) return true;
			for (const { mesh } of unshown) mesh.layers.set(0);
			unshown = [];
			chooseShown();
			return false;
		},
		setMoving(moving) {
			isMoving = moving;
			chooseShown();
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
			both.matrix.copy(new Matrix4(r[0], r[1], r[2], t[0], r[3], r[4], r[5], t[1], r[6], r[7], r[8], t[2], 0, 0, 0, 1));
			both.matrixWorldNeedsUpdate = true;
		},
		setHatchColours(byEye, unreached) {
			uniforms.byEyeColour.value.set(byEye);
			uniforms.unreachedColour.value.set(unreached);
		},
		dispose() {
			clear(full);
			clear(coarse);
			material.dispose();
		},
	};
}

/** One triangle without area. */
const NOTHING: DisplayPiece = {
	vertices: new Uint32Array(3),
	positions: new Float32Array(9),
	normals: new Float32Array(9),
	corners: new Uint16Array([0, 1, 2]),
};

const sphereAround = ({ min, max }: Bounds): Sphere =>
	new Box3(new Vector3(...min), new Vector3(...max)).getBoundingSphere(new Sphere());

/** `around` the whole scan: the piece's own sphere would have to be looked for in all its vertices. */
function shownOf(from: DisplayPiece, material: MeshStandardMaterial, around: Sphere): Shown {
	const count = from.vertices.length;
	const colours = new BufferAttribute(new Uint16Array(3 * count), 3, true);
	const hatches = new BufferAttribute(new Uint8Array(2 * count), 2, true);
	const geometry = new BufferGeometry();
	geometry.setAttribute("position", new BufferAttribute(from.positions, 3));
	geometry.setAttribute("normal", new BufferAttribute(from.normals, 3));
	geometry.setAttribute("color", colours);
	geometry.setAttribute("hatch", hatches);
	geometry.setIndex(new BufferAttribute(from.corners, 1));
	geometry.boundingSphere = around;
	const mesh = new Mesh(geometry, material);
	// What is out of view is handed over all the same.
	mesh.frustumCulled = false;
	return { vertices: from.vertices, mesh, colours, hatches };
}

function paint({ vertices, colours, hatches }: Shown, look: VertexLook | null): void {
	const rgb = colours.array as Uint16Array;
	const flags = hatches.array as Uint8Array;
	flags.fill(0);
	if (look === null) rgb.fill(PLASTER);
	else
		for (let i = 0; i < vertices.length; i++) {
			look.paint(vertices[i], rgb, 3 * i);
			const hatch = look.hatch === null ? 0 : look.hatch(vertices[i]);
			if (hatch > 0) flags[2 * i + hatch - 1] = 255;
		}
	colours.needsUpdate = true;
	hatches.needsUpdate = true;
}

/** Linear grey of fresh plaster. */
const PLASTER = Math.round(0.8 * 65535);
