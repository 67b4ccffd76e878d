/** The scene on the banker: joins camera, scan, stone, drill lines and marks, and draws when something has changed. */

import { IDENTITY, type Placement, place as placed, turnBack, type Vec3 } from "../../core/vector.ts";
import type { DisplayMesh } from "../jobs/displayMesh.ts";
import type { Piece } from "../jobs/pieces.ts";
import type { Stop } from "../state/stops.ts";
import type { CutOpen } from "../state/ui.ts";
import { nearestMark, rayUnder, stepped, wayOnScreen } from "./aim.ts";
import { type Bends, createBendView } from "./bendView.ts";
import { type Bounds, joined, turnedBounds } from "./bounds.ts";
import { orbited, type Pose, panned, poseOn, type ViewName, viewFrom, zoomed } from "./camera.ts";
import { cutThrough } from "./cutPlane.ts";
import type { CutScene } from "./cutScene.ts";
import { createCutView } from "./cutView.ts";
import { createDrillView, type DrillLine } from "./drillView.ts";
import { poseOnStop } from "./lookAt.ts";
import type { MarkLook } from "./markShapes.ts";
import { createMarkSight } from "./markSight.ts";
import { drawMarks, type Mark, type MarkState, type Projected } from "./marksView.ts";
import type { Picker, Place } from "./picker.ts";
import { projection } from "./projection.ts";
import { createScanView, type ScanCut, TOUCHED } from "./scanView.ts";
import { drawSides, type SideLook, type SideWords } from "./sideWords.ts";
import { createStand } from "./stand.ts";
import { createStoneView, type GapDrawn, type PlaneDrawn, type StoneDrawn } from "./stoneView.ts";
import { createStopView } from "./stopView.ts";
import type { VertexLook } from "./vertexLook.ts";

export const UNPLACED: Placement = { rotation: IDENTITY, translation: [0, 0, 0] };

export interface BankerColours extends MarkLook, SideLook {
	readonly stoneEdge: string;
	readonly stoneFace: string;
	readonly ground: string;
	readonly slate: string;
}

export type Banker = ReturnType<typeof createBanker>;

const FIRST_LOOK = { azimuth: 0.62, elevation: 0.3 };
/** The full model is drawn again when it has been still for that long, ms. */
const STILL_AFTER = 160;
export function createBanker(canvas: HTMLCanvasElement, marksCanvas: HTMLCanvasElement, onPose: () => void) {
	const pen = marksCanvas.getContext("2d") as CanvasRenderingContext2D;
	const scan = createScanView();
	const stone = createStoneView();
	const drills = createDrillView();
	const bends = createBendView();
	const stops = createStopView();
	const cuts = createCutView();
	// Cut open it has shaders of its own; they are made with the others, now, while there is nothing to see.
	scan.setCut({ normal: [0, 0, 1], offset: 0 });
	const stand = createStand(canvas, [
		cuts.object,
		scan.object,
		stone.object,
		drills.object,
		stops.object,
		bends.object,
	]);

	let width = 1;
	let height = 1;
	let pose: Pose = { target: [0, 0, 150], azimuth: FIRST_LOOK.azimuth, elevation: FIRST_LOOK.elevation, span: 500 };
	let placement: Placement = UNPLACED;
	let picker: Picker | null = null;
	let meshBounds: Bounds | null = null;
	let block: Vec3 | null = null;
	const sight = createMarkSight();
	let seen: Projected[] = [];
	let state: MarkState = {
		pointed: null,
		run: null,
		held: null,
		ghost: null,
		weight: null,
		blocked: null,
		stop: null,
		rule: null,
		crosshair: null,
	};
	let colours: BankerColours | null = null;
	let lines: readonly DrillLine[] = [];
	let sides: readonly SideWords[] = [];
	let showsLine: (line: DrillLine) => boolean = () => false;
	let frame = 0;
	let settling = 0;
	let sighting = 0;
	let cut: ScanCut | null = null;
	let opened: CutOpen | null = null;
	let stillTimer = 0;

	const redraw = (): void => {
		frame ||= requestAnimationFrame(drawWhenFree);
	};
	const project = () =>
		projection(
			pose,
			width,
			height,
			(model) => placed(placement, model),
			(direction) => turnBack(placement.rotation, direction),
		);

	/** Hands the scan, or how it looks, to the graphics bit by bit, and shows it when all of it is there. */
	function settle(): void {
		settling = 0;
		if (!scan.settle()) {
			redraw();
			return;
		}
		stand.touch(TOUCHED);
		settling = requestAnimationFrame(settle);
	}
	const settleSoon = (): void => {
		settling ||= requestAnimationFrame(settle);
	};
	function drawWhenFree(): void {
		frame = 0;
		if (stand.isBusy()) redraw();
		else draw();
	}
	function draw(): void {
		cancelAnimationFrame(frame);
		frame = 0;
		if (width < 2 || height < 2) return;
		stand.draw(pose, width / height);
		drawOver();
	}
	/** The marks; as long as some have not been looked at in this view, once more in the next frame. */
	function drawOver(): void {
		cancelAnimationFrame(sighting);
		sighting = 0;
		const ratio = marksCanvas.width / width;
		pen.setTransform(ratio, 0, 0, ratio, 0, 0);
		pen.clearRect(0, 0, width, height);
		// A canvas that is only cleared may go on showing its last picture: one speck, too faint to be seen, makes it new.
		pen.fillStyle = "rgb(0 0 0 / 0.4%)";
		pen.fillRect(0, 0, 1, 1);
		if (!colours) return;
		const view = project();
		if (!sight.look(view, picker, width, height)) sighting = requestAnimationFrame(drawOver);
		seen = sight.seen(view, width, height).filter(({ mark }) => isKept(mark.place.position));
		if (block) drawSides(pen, view, block, sides, colours);
		drawMarks(pen, seen, view, state, colours, height / pose.span);
	}

	/** The plane of `opened` through the model as it lies now. */
	const layCut = (): void => {
		const bounds = meshBounds && turnedBounds(meshBounds, placement);
		cut = opened && bounds && cutThrough(bounds, opened);
		scan.setCut(cut);
		redraw();
	};
	const isKept = (model: Vec3): boolean => {
		if (!cut) return true;
		const at = placed(placement, model);
		return cut.normal[0] * at[0] + cut.normal[1] * at[1] + cut.normal[2] * at[2] <= cut.offset;
	};

	const setPose = (next: Pose): void => {
		scan.setMoving(true);
		clearTimeout(stillTimer);
		stillTimer = window.setTimeout(() => {
			scan.setMoving(false);
			redraw();
		}, STILL_AFTER);
		pose = next;
		sight.lookAnew();
		onPose();
		redraw();
	};

	const shownBounds = (): Bounds => {
		const ofModel = meshBounds && turnedBounds(meshBounds, placement);
		const ofBlock: Bounds | null = block && { min: [0, 0, 0], max: block };
		return joined(ofModel, ofBlock) ?? { min: [-150, -150, 0], max: [150, 150, 300] };
	};

	// Before anything is opened, so that the shaders are there when it is: aside as on the canvas, cut open and whole.
	scan.settle();
	stand.touch(TOUCHED);
	scan.setCut(null);
	stand.touch(TOUCHED);
	settleSoon();

	return {
		resize(w: number, h: number, ratio: number): void {
			if (w < 2 || h < 2) return;
			width = w;
			height = h;
			stand.resize(w, h, ratio);
			marksCanvas.width = Math.round(w * ratio);
			marksCanvas.height = Math.round(h * ratio);
			sight.lookAnew();
			onPose();
			// At once: a canvas that has been resized is blank until it is drawn.
			draw();
		},
		setColours(next: BankerColours): void {
			colours = next;
			stone.setColours({
				edge: next.stoneEdge,
				face: next.stoneFace,
				raddle: next.raddle,
				ground: next.ground,
				chalk: next.slate,
			});
			stops.setColour(next.raddle);
			cuts.setColours({ edge: next.stoneEdge, raddle: next.raddle });
			bends.setColours(next.raddle, next.slate);
			drills.setColours({ line: next.slate, pointed: next.raddle });
			scan.setHatchColours(next.raddle, next.slate);
			scan.setCutColour(next.ground);
			redraw();
		},
		/** Another surface, with what answers rays on it. */
		setMesh(mesh: DisplayMesh | null, surface: Picker | null): void {
			scan.setMesh(mesh);
			picker = surface;
			meshBounds = mesh?.bounds ?? null;
			layCut();
			settleSoon();
			sight.lookAnew();
			redraw();
		},
		setCutOpen(next: CutOpen | null): void {
			opened = next;
			layCut();
		},
		setCoarse(pieces: readonly Piece[] | null): void {
			scan.setCoarse(pieces);
			settleSoon();
		},
		setBends(next: Bends | null): void {
			bends.setBends(next);
			redraw();
		},
		setLook(look: VertexLook | null): void {
			scan.setLook(look);
			settleSoon();
		},
		setPlacement(next: Placement): void {
			placement = next;
			scan.setPlacement(next);
			bends.setPlacement(next);
			stops.setPlacement(next);
			layCut();
			sight.lookAnew();
			redraw();
		},
		setStone(next: StoneDrawn | null): void {
			block = next?.extent ?? null;
			stone.setStone(next);
			redraw();
		},
		/** Natural bed and flaws. */
		setPlanes(next: readonly PlaneDrawn[]): void {
			stone.setPlanes(next);
			redraw();
		},
		setGaps(next: readonly GapDrawn[]): void {
			stone.setGaps(next);
			redraw();
		},
		/** mm in the stone for a way of so many pixels right and down on the screen. */
		inStone(right: number, down: number): Vec3 {
			const perPixel = pose.span / height;
			return wayOnScreen(pose, right * perPixel, -down * perPixel);
		},
		setLines(next: readonly DrillLine[]): void {
			lines = next;
			drills.setLines(lines.filter(showsLine));
			redraw();
		},
		/** Which lines are drawn besides the one that is pointed at. */
		showLines(shows: (line: DrillLine) => boolean): void {
			showsLine = shows;
			drills.setLines(lines.filter(showsLine));
			redraw();
		},
		/** Shows a place and goes to where it is seen best; the model must stand free. null: shows none, and stays. */
		lookAt(stop: Stop | null): void {
			stops.setLines(stop && stop.lines.length > 0 ? stop.lines : null);
			if (stop && meshBounds)
				setPose(
					poseOnStop(stop, picker, Math.hypot(...meshBounds.max.map((x, k) => x - (meshBounds as Bounds).min[k]))),
				);
			redraw();
		},
		setCuts(next: CutScene | null): void {
			cuts.setScene(next);
			stone.setFaint(next !== null && next.edges.length > 0);
			redraw();
		},
		setSides(next: readonly SideWords[]): void {
			sides = next;
			redraw();
		},
		setMarks(next: readonly Mark[]): void {
			sight.setMarks(next);
			redraw();
		},
		setState(next: MarkState): void {
			if (next.pointed !== state.pointed) drills.point(lines.find((line) => line.number === next.pointed) ?? null);
			state = next;
			redraw();
		},
		pose: () => pose,
		mmPerPixel: () => pose.span / height,
		size: () => [width, height] as const,
		whole(): void {
			setPose(poseOn(shownBounds(), width / height, pose));
		},
		firstLook(): void {
			setPose(poseOn(shownBounds(), width / height, FIRST_LOOK));
		},
		view(name: ViewName): void {
			setPose(viewFrom(name, shownBounds(), width / height));
		},
		turn: (right: number, up: number): void => setPose(orbited(pose, right, up)),
		move(right: number, down: number): void {
			const perPixel = pose.span / height;
			setPose(panned(pose, right * perPixel, -down * perPixel));
		},
		zoom(factor: number, x = width / 2, y = height / 2): void {
			const perPixel = pose.span / height;
			setPose(zoomed(pose, factor, (x - width / 2) * perPixel, (height / 2 - y) * perPixel));
		},
		/** The place of the surface under a pixel, or null; snapped to the local high or low within `reach` mm unless 0. */
		placeAt(x: number, y: number, reach: number): Place | null {
			if (!picker) return null;
			const perPixel = pose.span / height;
			const [right, up] = [(x - width / 2) * perPixel, (height / 2 - y) * perPixel];
			const { origin, direction } = rayUnder(pose, placement, right, up, cut);
			const hit = picker.cast(origin, direction);
			return hit && reach > 0 ? picker.snapped(hit, reach) : hit;
		},
		/** The place reached from `from` by going that many mm right and up on the screen and back onto the surface. */
		nudged(from: Place, right: number, up: number): Place {
			const to = stepped(pose, placement, from, right, up);
			return (to && picker?.closest(to)) ?? from;
		},
		markAt: (x: number, y: number): Mark | null => nearestMark(seen, x, y),
		/** Where a place of the model is on the screen. */
		toScreen: (model: Vec3) => project().toScreen(model),
		redraw,
		dispose(): void {
			cancelAnimationFrame(frame);
			cancelAnimationFrame(settling);
			cancelAnimationFrame(sighting);
			clearTimeout(stillTimer);
			scan.dispose();
			stone.dispose();
			drills.dispose();
			bends.dispose();
			stops.dispose();
			cuts.dispose();
			stand.dispose();
		},
	};
}
