/** The banker in the window: what it shows follows the open page, and what is pointed at or picked on it goes back to the state. */

import { effect, useComputed, useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import type { Vec3 } from "../../core/vector.ts";
import { coarseOf } from "../state/coarse.ts";
import { useSession } from "../state/context.ts";
import { placementInHand } from "../state/hand.ts";
import { arePointsOld, arePointsPutAway } from "../state/outdated.ts";
import { numbersInRun } from "../state/points.ts";
import { stopShown } from "../state/stops.ts";
import { surfaceOf } from "../state/surface.ts";
import { allLines, cutOpen, held, holeShown, listShown, page, picking, pointed, run, theme } from "../state/ui.ts";
import { type Banker, createBanker, UNPLACED } from "./banker.ts";
import type { Bounds } from "./bounds.ts";
import { bendsShown, type Colours, coloursShown } from "./colours.ts";
import {
	blockedShown,
	type Dragged,
	drillLines,
	marksShown,
	ruleShown,
	showsStone,
	sidesShown,
	weightShown,
} from "./content.ts";
import { cutScene } from "./cutScene.ts";
import { wireBanker } from "./input.ts";
import { ColourTools, Legend } from "./Legend.tsx";
import { LookTools } from "./LookTools.tsx";
import { Bar, Views, Words } from "./Overlay.tsx";
import type { Place } from "./picker.ts";
import { gapsDrawn, planesDrawn, stoneDrawn } from "./stoneContent.ts";
import { Told } from "./Told.tsx";
import { themeColours } from "./themeColours.ts";

/** A figure so many times larger or smaller than it was is shown whole anew. */
const RESIZED = 1.25;
/** So is a block of which a side has grown by so much: its edges would leave the window. */
const GROWN = 1.02;
const NO_BLOCK: Vec3 = [0, 0, 0];

const largestSide = ({ min, max }: Bounds): number => Math.max(max[0] - min[0], max[1] - min[1], max[2] - min[2]);

export function BankerView() {
	const session = useSession();
	const box = useRef<HTMLDivElement>(null);
	const sceneCanvas = useRef<HTMLCanvasElement>(null);
	const marksCanvas = useRef<HTMLCanvasElement>(null);
	const banker = useRef<Banker | null>(null);
	/** Counts changes of the view, for what is drawn over it in HTML. */
	const posed = useSignal(0);
	const ghost = useSignal<Place | null>(null);
	const crosshair = useSignal<readonly [number, number] | null>(null);
	const dragged = useSignal<Dragged | null>(null);
	const colours = useComputed<Colours>(() => coloursShown(session));
	const failed = useSignal<string | null>(null);

	useEffect(() => {
		const canvas = sceneCanvas.current as HTMLCanvasElement;
		let made: Banker;
		try {
			made = createBanker(canvas, marksCanvas.current as HTMLCanvasElement, () => {
				// Without reading it: an effect that moves the view must not depend on it.
				posed.value = posed.peek() + 1;
			});
		} catch {
			failed.value =
				"The model cannot be drawn: this system offers no WebGL 2. Lists, sheets and every number work all the same.";
			return;
		}
		banker.current = made;
		const watch = new ResizeObserver(() => {
			// A last notice may come after the banker has been put away.
			if (!box.current) return;
			made.resize(box.current.clientWidth, box.current.clientHeight, Math.min(2, window.devicePixelRatio));
		});
		watch.observe(box.current as HTMLDivElement);
		void document.fonts.ready.then(made.redraw);

		let framed: unknown = null;
		/** Largest side of what was last framed, mm. */
		let framedSide = 0;
		/** Sides of the block that was last framed, mm. */
		let framedBlock: Vec3 = NO_BLOCK;
		const ends = [
			effect(() => {
				void theme.value;
				made.setColours(themeColours());
			}),
			effect(() => made.setMesh(session.mesh.value, surfaceOf(session))),
			effect(() => made.setLook(colours.value.look)),
			effect(() => made.setBends(bendsShown(session))),
			effect(() => {
				const stone = showsStone() ? session.answers.value?.stone : null;
				made.setPlacement(stone ? (placementInHand(session) ?? stone.fit.placement) : UNPLACED);
				made.setStone(stone ? stoneDrawn(stone) : null);
				made.setSides(page.value === "stone" ? sidesShown(session) : []);
				// The first sight of a scan, another size of it or its block, and going to or from the stone, show all of it; otherwise the view stays.
				const frame =
					session.scan.value && session.mesh.value
						? `${session.scan.value.sha256} ${stone ? "in stone" : "free"}`
						: null;
				const side = session.mesh.value ? largestSide(session.mesh.value.bounds) : 0;
				const resized = side > RESIZED * framedSide || RESIZED * side < framedSide;
				const block = stone?.block ?? NO_BLOCK;
				const outgrown = block.some(
					(length, k) => length > GROWN * framedBlock[k] || RESIZED * length < framedBlock[k],
				);
				if (frame !== null && (frame !== framed || resized || outgrown)) {
					framedSide = side;
					framedBlock = block;
					if (framed === null) made.firstLook();
					else made.whole();
				}
				framed = frame;
			}),
			effect(() =>
				made.setCuts(showsStone() && !(session.awaited.cuts && arePointsPutAway(session)) ? cutScene(session) : null),
			),
			effect(() => made.setPlanes(showsStone() ? planesDrawn(session) : [])),
			effect(() => made.setGaps(page.value === "stone" ? gapsDrawn(session) : [])),
			effect(() => {
				made.setMarks(marksShown(session, dragged.value));
			}),
			effect(() => made.setLines(showsStone() && page.value !== "stone" ? drillLines(session) : [])),
			effect(() => {
				const brushed = numbersInRun(session.plan.value, run.value);
				made.showLines((line) => allLines.value || brushed?.has(line.number) === true);
			}),
			effect(() =>
				made.setState({
					pointed: pointed.value ?? holeShown.value,
					run: numbersInRun(session.plan.value, run.value),
					held: held.value,
					ghost: ghost.value,
					weight: weightShown(session),
					blocked: blockedShown(session),
					stop: stopShown(session),
					rule: ruleShown(session),
					crosshair: crosshair.value,
				}),
			),
			effect(() => made.lookAt(stopShown(session))),
			effect(() => made.setCutOpen(cutOpen.value)),
			effect(() => made.setCoarse(coarseOf(session))),
			effect(() => {
				if (picking.value === null) {
					ghost.value = null;
					crosshair.value = null;
				}
				// Whoever asks by the keyboard picks by it, and need not walk here first.
				else if (document.activeElement?.matches("button:focus-visible")) canvas.focus();
			}),
		];

		const unwire = wireBanker(canvas, made, session, { ghost, crosshair, dragged });
		return () => {
			unwire();
			for (const end of ends) end();
			watch.disconnect();
			made.dispose();
		};
	}, []);

	const isPicking = picking.value !== null;
	const onBanker = session.mesh.value && !listShown.value ? banker.current : null;
	return (
		<div
			class={`banker-box${isPicking ? " picking" : ""}${arePointsOld(session) && (page.value === "points" || page.value === "bench") ? " old-points" : ""}`}
			ref={box}
		>
			{/* biome-ignore lint/a11y/noInteractiveElementToNoninteractiveRole: arrow keys turn and nudge here, so a screen reader must pass them on. */}
			<canvas
				class="scene-canvas"
				ref={sceneCanvas}
				id="banker-canvas"
				tabIndex={0}
				role="application"
				aria-label="The model in its stone. Arrow keys turn it, Shift and arrow keys move it, plus and minus zoom, 0 shows all of it. The list of points holds the same in words."
			/>
			<canvas class="marks-canvas" ref={marksCanvas} />
			<div class="banker-over">
				{session.scan.value && (
					<div class="banker-tools">
						{session.mesh.value && <ColourTools />}
						{session.mesh.value && !listShown.value && <LookTools />}
						<Words failed={failed.value} />
					</div>
				)}
				{onBanker && <Views banker={onBanker} posed={posed.value} />}
			</div>
			{onBanker && (
				<>
					<Bar banker={onBanker} posed={posed.value} />
					<Legend colours={colours.value} />
					<Told banker={onBanker} posed={posed.value} />
				</>
			)}
		</div>
	);
}
