/** The banker in the window: what it shows follows the open page, and what is pointed at or picked on it goes back to the state. */

import { effect, useComputed, useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { lengthText } from "../../core/text/format.ts";
import type { Placement } from "../../core/vector.ts";
import { useSession } from "../state/context.ts";
import { datumSetsShown, heldPlace, LETTERS, moveHeld, placeOf, removePick, takePick } from "../state/datums.ts";
import { letThrough, numbersInRun } from "../state/points.ts";
import { surfaceOf } from "../state/surface.ts";
import {
	allLines,
	type Held,
	held,
	listShown,
	page,
	picking,
	pointed,
	pointFilter,
	run,
	setTrouble,
	theme,
} from "../state/ui.ts";
import { type Banker, type BankerColours, createBanker, type SideWords, UNPLACED } from "./banker.ts";
import { VIEWS, type ViewName, viewOf } from "./camera.ts";
import { type Colours, coloursShown } from "./colours.ts";
import type { DrillLine } from "./drillView.ts";
import { ColourTools, Legend } from "./Legend.tsx";
import type { Mark } from "./marksView.ts";
import type { Place } from "./picker.ts";
import { listenToPointers } from "./pointer.ts";
import { scaleBar } from "./scaleBar.ts";
import { Told } from "./Told.tsx";

const NUDGE_MM = 1;
const KEY_TURN = 0.12;
const KEY_MOVE = 40;

/** The colours of the theme as the style sheet has them. */
function themeColours(): BankerColours {
	const style = getComputedStyle(document.documentElement);
	const of = (name: string): string => style.getPropertyValue(name).trim();
	return {
		ink: of("--disc-ink"),
		halo: of("--disc"),
		raddle: of("--raddle"),
		onRaddle: of("--on-raddle"),
		focus: of("--focus"),
		soft: of("--ink-soft"),
		font: of("--hand"),
		bookFont: of("--book"),
		stoneEdge: of("--stone-edge"),
		stoneFace: of("--stone-face"),
		ground: of("--ground"),
		slate: of("--slate"),
		wall: of("--wall-top"),
		wallInk: of("--ink"),
	};
}

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
	const dragged = useSignal<{ readonly what: Held; readonly place: Place } | null>(null);
	const colours = useComputed<Colours>(() => coloursShown(session));
	const failed = useSignal<string | null>(null);

	useEffect(() => {
		const canvas = sceneCanvas.current as HTMLCanvasElement;
		let made: Banker;
		try {
			made = createBanker(canvas, marksCanvas.current as HTMLCanvasElement, () => {
				posed.value++;
			});
		} catch {
			failed.value =
				"The model cannot be drawn: this system offers no WebGL 2. Lists, sheets and every number work all the same.";
			return;
		}
		banker.current = made;
		const watch = new ResizeObserver(() => {
			const { clientWidth, clientHeight } = box.current as HTMLDivElement;
			made.resize(clientWidth, clientHeight, Math.min(2, window.devicePixelRatio));
		});
		watch.observe(box.current as HTMLDivElement);
		void document.fonts.ready.then(made.redraw);

		const showsStone = (): boolean => page.value !== "model" && page.value !== "finish";
		const placement = (): Placement =>
			(showsStone() ? session.answers.value?.stone?.fit.placement : undefined) ?? UNPLACED;
		let framed: unknown = null;
		const ends = [
			effect(() => {
				void theme.value;
				made.setColours(themeColours());
			}),
			effect(() => made.setMesh(session.mesh.value, surfaceOf(session))),
			effect(() => made.setLook(colours.value.look)),
			effect(() => {
				made.setPlacement(placement());
				made.setBlock(showsStone() ? (session.answers.value?.stone?.block ?? null) : null);
				made.setSides(page.value === "stone" ? sidesShown(session) : []);
				// The first sight of a scan, and going to or from the stone, show all of it; otherwise the view stays.
				const frame = session.scan.value && session.mesh.value ? `${session.scan.value.sha256} ${showsStone()}` : null;
				if (frame !== null && frame !== framed) {
					if (framed === null) made.firstLook();
					else made.whole();
				}
				framed = frame;
			}),
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
					pointed: pointed.value,
					run: numbersInRun(session.plan.value, run.value),
					held: held.value,
					ghost: ghost.value,
					weight: weightShown(session),
					crosshair: crosshair.value,
				}),
			),
			effect(() => {
				if (picking.value === null) {
					ghost.value = null;
					crosshair.value = null;
				}
			}),
		];

		const reach = (free: boolean): number => (free ? 0 : (session.commission.value?.model.smallestForm_mm ?? 0));
		let grabbed: Held | null = null;
		const unwire = listenToPointers(canvas, {
			turn: made.turn,
			move: made.move,
			zoom: made.zoom,
			click(x, y, free) {
				if (picking.value) {
					const place = made.placeAt(x, y, reach(free));
					if (place) takePick(session, place);
					return;
				}
				const mark = made.markAt(x, y);
				held.value =
					mark?.kind === "datum"
						? { kind: "datum", set: mark.set, index: mark.index }
						: mark?.kind === "pick"
							? { kind: "pick", index: mark.index }
							: null;
				pointed.value = mark?.kind === "point" ? mark.number : null;
			},
			hover(at, free) {
				crosshair.value = null;
				if (picking.value) {
					ghost.value = at && made.placeAt(at[0], at[1], reach(free));
					return;
				}
				const mark = at && made.markAt(at[0], at[1]);
				pointed.value = mark?.kind === "point" ? mark.number : null;
				canvas.classList.toggle("over-mark", mark?.kind === "datum" || mark?.kind === "pick");
			},
			grab(x, y) {
				if (picking.value) return false;
				const mark = made.markAt(x, y);
				grabbed =
					mark?.kind === "datum"
						? { kind: "datum", set: mark.set, index: mark.index }
						: mark?.kind === "pick"
							? { kind: "pick", index: mark.index }
							: null;
				if (grabbed) held.value = grabbed;
				return grabbed !== null;
			},
			drag(x, y, free) {
				const place = made.placeAt(x, y, reach(free));
				if (place && grabbed) dragged.value = { what: grabbed, place };
			},
			drop() {
				if (dragged.value) setTrouble("datums", moveHeld(session, dragged.value.what, dragged.value.place));
				dragged.value = null;
			},
		});

		const keys = (event: KeyboardEvent): void => {
			const arrow = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
			if (event.ctrlKey || event.metaKey) return;
			if (picking.value) {
				const [w, h] = made.size();
				const at = crosshair.value ?? [w / 2, h / 2];
				if (arrow) {
					const by = event.shiftKey ? 1 : 12;
					crosshair.value = [
						Math.max(0, Math.min(w, at[0] + arrow[0] * by)),
						Math.max(0, Math.min(h, at[1] - arrow[1] * by)),
					];
					ghost.value = made.placeAt(crosshair.value[0], crosshair.value[1], reach(event.altKey));
				} else if (event.key === "Enter" || event.key === " ") {
					const place = made.placeAt(at[0], at[1], reach(event.altKey));
					if (place) takePick(session, place);
				} else return;
				event.preventDefault();
				return;
			}
			const what = held.value;
			const from = what && heldPlace(session, what);
			if (arrow && what && from) {
				const by = NUDGE_MM * (event.shiftKey ? 10 : 1);
				setTrouble("datums", moveHeld(session, what, made.nudged(from, arrow[0] * by, arrow[1] * by)));
			} else if (arrow && event.shiftKey) made.move(-arrow[0] * KEY_MOVE, arrow[1] * KEY_MOVE);
			else if (arrow) made.turn(arrow[0] * KEY_TURN, -arrow[1] * -KEY_TURN);
			else if (event.key === "+" || event.key === "=") made.zoom(1.2);
			else if (event.key === "-") made.zoom(1 / 1.2);
			else if (event.key === "0") made.whole();
			else if ((event.key === "Delete" || event.key === "Backspace") && what?.kind === "pick") {
				removePick(session, what.index);
				held.value = null;
			} else return;
			event.preventDefault();
		};
		canvas.addEventListener("keydown", keys);
		return () => {
			canvas.removeEventListener("keydown", keys);
			unwire();
			for (const end of ends) end();
			watch.disconnect();
			made.dispose();
		};
	}, []);

	const isPicking = picking.value !== null;
	return (
		<div class={isPicking ? "banker-box picking" : "banker-box"} ref={box}>
			<canvas
				class="scene-canvas"
				ref={sceneCanvas}
				id="banker-canvas"
				tabIndex={0}
				role="img"
				aria-label="The model in its stone. Arrow keys turn it, Shift and arrow keys move it, plus and minus zoom, 0 shows all of it. The list of points holds the same in words."
			/>
			<canvas class="marks-canvas" ref={marksCanvas} />
			<div class="banker-tools">
				{session.mesh.value && <ColourTools />}
				<Words failed={failed.value} />
			</div>
			{session.mesh.value && banker.current && (
				<>
					{!listShown.value && (
						<>
							<Views banker={banker.current} posed={posed.value} />
							<Bar banker={banker.current} posed={posed.value} />
							<Legend colours={colours.value} />
							<Told banker={banker.current} posed={posed.value} />
						</>
					)}
				</>
			)}
		</div>
	);
}

/** What the banker has to say: what is being picked, why a scan was refused, why there is nothing to see. */
function Words({ failed }: { failed: string | null }) {
	const session = useSession();
	const pick = picking.value;
	const refused = session.openTrouble.value;
	const unitWanted = session.answers.value !== null && session.mesh.value === null && session.working.value === null;
	return (
		<>
			{refused !== null && (
				<p class="banker-word" role="alert">
					{refused}{" "}
					<button
						type="button"
						class="word"
						onClick={() => {
							session.openTrouble.value = null;
						}}
					>
						all right
					</button>
				</p>
			)}
			{pick && (
				<p class="banker-word" role="status">
					Pick {pick.kind === "datum" ? `datum ${LETTERS[pick.index]}` : "a point"} on the model. It goes to the local
					high or low; hold Alt for the very place. Esc leaves off.
				</p>
			)}
			{failed !== null && <p class="banker-word">{failed}</p>}
			{failed === null && unitWanted && (
				<p class="banker-word">The model is shown once its unit is known; choose it on page 1.</p>
			)}
		</>
	);
}

function Views({ banker, posed }: { banker: Banker; posed: number }) {
	void posed;
	const now = viewOf(banker.pose());
	const button = (name: ViewName) => (
		<button type="button" class={name} key={name} aria-pressed={now === name} onClick={() => banker.view(name)}>
			{name}
		</button>
	);
	return (
		<fieldset class="views">
			<legend class="unseen">views</legend>
			<div class="unfolded">
				{VIEWS.map(button)}
				<button type="button" class="whole" onClick={banker.whole}>
					show all
				</button>
			</div>
		</fieldset>
	);
}

function Bar({ banker, posed }: { banker: Banker; posed: number }) {
	void posed;
	const bar = scaleBar(banker.mmPerPixel(), 140, useSession().units.value);
	return (
		<div class="scale-bar">
			{bar.words}
			<i style={{ width: `${bar.pixels.toFixed(1)}px` }} />
		</div>
	);
}

type Session = ReturnType<typeof useSession>;

/** On the last page, where the weight of the finished figure acts. */
function weightShown(session: Session) {
	const centroid = session.answers.value?.model?.centroid;
	if (page.value !== "finish" || !centroid) return null;
	return { at: centroid, under: [centroid[0], centroid[1], 0] as const };
}

/** The block's sides beside the three edges that leave the marked corner. */
function sidesShown(session: Session): SideWords[] {
	const block = session.answers.value?.stone?.block;
	if (!block) return [];
	const unit = session.units.value;
	return block.map((side, axis) => ({ axis, words: lengthText(side, unit, 0) }));
}

/** Points from page 3 on; datums and picks wherever there is a stone. */
function marksShown(session: Session, dragged: { what: Held; place: Place } | null): Mark[] {
	if (page.value === "model" || page.value === "finish") return [];
	const marks: Mark[] = [];
	const plan = session.plan.value;
	if (plan && page.value !== "stone")
		for (const point of plan.points)
			marks.push({
				kind: "point",
				number: point.number,
				place: { position: point.model_mm, normal: point.normal },
				round: point.round,
				side: point.side,
				undercut: point.undercut,
				faint: !letThrough(point, pointFilter.value, plan),
			});
	const at = (kind: Held["kind"], set: number, index: number, place: Place): Place =>
		dragged &&
		dragged.what.kind === kind &&
		dragged.what.index === index &&
		(dragged.what.kind !== "datum" || dragged.what.set === set)
			? dragged.place
			: place;
	datumSetsShown(session).forEach(({ datums }, set) => {
		datums.forEach((datum, i) => {
			const index = i as 0 | 1 | 2;
			marks.push({ kind: "datum", letter: LETTERS[index], set, index, place: at("datum", set, i, placeOf(datum)) });
		});
	});
	session.commission.value?.picks.forEach((pick, index) => {
		marks.push({ kind: "pick", index, place: at("pick", 0, index, placeOf(pick)) });
	});
	return marks;
}

function drillLines(session: Session): DrillLine[] {
	const plan = session.plan.value;
	if (!plan) return [];
	const { rotation: r, translation: t } = plan.stone.placement;
	return plan.points.flatMap((point): DrillLine[] => {
		if (!point.line || !point.entry_mm || point.stop_mm === null) return [];
		if (!letThrough(point, pointFilter.value, plan)) return [];
		const m = point.model_mm;
		const along = (i: number): number =>
			r[3 * i] * m[0] +
			r[3 * i + 1] * m[1] +
			r[3 * i + 2] * m[2] +
			t[i] +
			(point.stop_mm ?? 0) * (point.line?.[i] ?? 0);
		return [{ number: point.number, tip: [along(0), along(1), along(2)], entry: point.entry_mm, out: point.line }];
	});
}
