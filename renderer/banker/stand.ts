/** Camera, lamps and canvas: what any scene on the banker needs to be drawn. */

import {
	BufferAttribute,
	Color,
	DirectionalLight,
	HemisphereLight,
	type Mesh,
	type Object3D,
	OrthographicCamera,
	Scene,
	SRGBColorSpace,
	Vector3,
	WebGLRenderer,
	WebGLRenderTarget,
} from "three";
import { axesOf, type Pose } from "./camera.ts";

/** How far the viewer stands off, besides four times the span: farther than anything that is shown. mm */
export const FAR_MM = 4000;

/** A drawing that has not been reported done by then never will be, as after the graphics were lost. */
const LONGEST_FRAME_MS = 2000;

export interface Stand {
	resize(width: number, height: number, ratio: number): void;
	/** `aspect` is width ÷ height. */
	draw(pose: Pose, aspect: number): void;
	/** Hands what is on that layer to the graphics without showing it. */
	touch(layer: number): void;
	/** Whether the graphics are still at the last drawing: another would queue up behind it and hold the window up. */
	isBusy(): boolean;
	dispose(): void;
}

/** Throws where the system offers no WebGL 2. */
export function createStand(canvas: HTMLCanvasElement, objects: readonly Object3D[]): Stand {
	const renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true });
	renderer.outputColorSpace = SRGBColorSpace;
	renderer.localClippingEnabled = true;
	renderer.setClearColor(new Color(0), 0);
	const gl = renderer.getContext() as WebGL2RenderingContext;
	let drawn: { readonly fence: WebGLSync; readonly at: number } | null = null;
	const aside = new WebGLRenderTarget(1, 1);
	const camera = new OrthographicCamera();
	camera.matrixAutoUpdate = false;
	const sky = new HemisphereLight(0xfff6e6, 0x7d6f5c, 1.25);
	sky.position.set(0, 0, 1);
	const lamp = new DirectionalLight(0xfffaf0, 2.1);
	const glint = new DirectionalLight(0xdfe8ef, 0.55);
	const scene = new Scene();
	// The same lamps on every layer: with others the shaders would be made anew.
	for (const light of [sky, lamp, glint]) light.layers.enableAll();
	scene.add(...objects, sky, lamp, lamp.target, glint, glint.target);

	// Asking the graphics whether a shader was made waits for all that they still have to do.
	renderer.debug.checkShaderErrors = false;
	drawAllOnce(renderer, scene, camera);

	const aim = (pose: Pose, aspect: number): void => {
		const { right, up, eye } = axesOf(pose);
		const reach = FAR_MM + 4 * pose.span;
		const from = (r: number, u: number, e: number): Vector3 =>
			new Vector3(
				...([0, 1, 2].map((i) => pose.target[i] + right[i] * r + up[i] * u + eye[i] * e) as [number, number, number]),
			);
		camera.matrix.makeBasis(new Vector3(...right), new Vector3(...up), new Vector3(...eye));
		camera.matrix.setPosition(from(0, 0, reach));
		camera.matrix.decompose(camera.position, camera.quaternion, camera.scale);
		camera.matrixWorldNeedsUpdate = true;
		camera.top = pose.span / 2;
		camera.bottom = -camera.top;
		camera.right = camera.top * aspect;
		camera.left = -camera.right;
		camera.near = 1;
		camera.far = 2 * reach;
		camera.updateProjectionMatrix();
		// The lamp goes with the viewer and rakes from the upper left, so that form reads from every side.
		lamp.position.copy(from(-900, 800, 700));
		lamp.target.position.set(...pose.target);
		glint.position.copy(from(1000, -100, -250));
		glint.target.position.set(...pose.target);
	};

	return {
		resize(width, height, ratio) {
			renderer.setPixelRatio(ratio);
			renderer.setSize(width, height, false);
		},
		draw(pose, aspect) {
			aim(pose, aspect);
			renderer.render(scene, camera);
			if (drawn) gl.deleteSync(drawn.fence);
			const fence = gl.fenceSync(gl.SYNC_GPU_COMMANDS_COMPLETE, 0);
			drawn = fence && { fence, at: performance.now() };
			gl.flush();
		},
		touch(layer) {
			camera.layers.set(layer);
			renderer.setRenderTarget(aside);
			renderer.render(scene, camera);
			renderer.setRenderTarget(null);
			camera.layers.set(0);
		},
		isBusy: () =>
			drawn !== null &&
			performance.now() - drawn.at < LONGEST_FRAME_MS &&
			gl.getSyncParameter(drawn.fence, gl.SYNC_STATUS) === gl.UNSIGNALED,
		dispose() {
			aside.dispose();
			renderer.dispose();
		},
	};
}

/** Every shader is made now, while there is nothing to see: made in the midst of a plan, each would hold the window up. */
function drawAllOnce(renderer: WebGLRenderer, scene: Scene, camera: OrthographicCamera): void {
	const were: (() => void)[] = [];
	scene.traverse((object) => {
		const { visible, frustumCulled } = object;
		were.push(() => Object.assign(object, { visible, frustumCulled }));
		Object.assign(object, { visible: true, frustumCulled: false });
		// Without places a thing has other shaders than it will be drawn with.
		const { geometry } = object as Partial<Mesh>;
		if (!geometry || geometry.hasAttribute("position")) return;
		geometry.setAttribute("position", new BufferAttribute(new Float32Array(9), 3));
		were.push(() => geometry.deleteAttribute("position"));
	});
	renderer.render(scene, camera);
	for (const putBack of were) putBack();
}
