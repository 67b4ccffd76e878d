/** The tape: every point that the filter lets through, in the order of work, one stroke each, as high as its hole is deep. */

import { useComputed, useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { doneNumbers } from "../../core/bench/log.ts";
import type { LogEntry } from "../../core/plan/commission.ts";
import type { PlanPoint } from "../../core/plan/planFile.ts";
import { lengthText } from "../../core/text/format.ts";
import { useSession } from "../state/context.ts";
import { AGAIN, arePointsOld } from "../state/outdated.ts";
import { letThrough, numbersInRun, pointSentence } from "../state/points.ts";
import { holeShown, pointed, pointFilter, run, tapeFolded, theme } from "../state/ui.ts";
import { BASE, drawTape, HEAD, type TapeColours } from "./drawTape.ts";
import {
	drawnOut,
	layTape,
	reachWith,
	slid,
	type TapeLayout,
	type TapeReach,
	tapeIndexAt,
	tapeIndexNear,
} from "./tapeLayout.ts";

function tapeColours(): TapeColours {
	const style = getComputedStyle(document.documentElement);
	const of = (name: string): string => style.getPropertyValue(name).trim();
	return {
		ink: of("--tape-ink"),
		line: of("--tape-line"),
		brush: of("--tape-brush"),
		raddle: of("--raddle"),
		onRaddle: of("--on-raddle"),
		font: of("--hand"),
	};
}

export function Tape() {
	const session = useSession();
	const plan = session.plan.value;
	const folded = tapeFolded.value;
	const old = arePointsOld(session);
	const unit = session.units.value;
	const anyDone = doneNumbers(session.commission.value?.log ?? NO_LOG).size > 0;
	/** What the tape holds, and which part of it is drawn out over its length. */
	const points = useComputed<readonly PlanPoint[]>(() => {
		const now = session.plan.value;
		return now ? now.points.filter((point) => letThrough(point, pointFilter.value, now)) : [];
	});
	const reach = useSignal<TapeReach | null>(null);
	const fullDepth = useSignal(0);
	const count = points.value.length;
	const shown: TapeReach = reach.value && reach.value[1] < count ? reach.value : [0, Math.max(0, count - 1)];
	return (
		<section class={`tape${folded ? " folded" : ""}${old ? " old-points" : ""}`} aria-label="tape">
			<div class="tape-side">
				<span>
					<b>
						{plan ? (count === plan.points.length ? `${count} points` : `${count} of ${plan.points.length}`) : "Tape"}
					</b>
					{old && <em class="tape-again">{AGAIN}</em>}
					{plan &&
						!old &&
						!folded &&
						fullDepth.value > 0 &&
						`${anyDone ? "dark: done; " : ""}full stroke: ${lengthText(fullDepth.value, unit, 0)}`}
				</span>
				<span class="tape-acts">
					{!folded && count > 1 && (
						<>
							<TapeButton
								words="draw the tape out"
								face="+"
								onClick={() => {
									reach.value = drawnOut(shown, count, 2, (shown[0] + shown[1]) / 2);
								}}
							/>
							<TapeButton
								words="draw the tape in"
								face="–"
								onClick={() => {
									reach.value = drawnOut(shown, count, 0.5, (shown[0] + shown[1]) / 2);
								}}
							/>
						</>
					)}
					<button
						type="button"
						class="word"
						aria-expanded={!folded}
						onClick={() => {
							tapeFolded.value = !folded;
						}}
					>
						{folded ? "unfold the tape" : "fold"}
					</button>
				</span>
			</div>
			{!folded &&
				(plan && count > 0 ? (
					<TapeRun
						points={points.value}
						reach={shown}
						onReach={(next) => {
							reach.value = next;
						}}
						onDepth={(mm) => {
							fullDepth.value = mm;
						}}
					/>
				) : (
					<p class="tape-empty">
						{plan
							? "No point is let through by the filter."
							: "Here every point gets a stroke in the order of work, as high as its hole is deep."}
					</p>
				))}
		</section>
	);
}

function TapeButton({ words, face, onClick }: { words: string; face: string; onClick(): void }) {
	return (
		<button type="button" class="tape-button" aria-label={words} title={words} onClick={onClick}>
			{face}
		</button>
	);
}

const NO_LOG: readonly LogEntry[] = [];

function TapeRun(props: {
	readonly points: readonly PlanPoint[];
	readonly reach: TapeReach;
	onReach(reach: TapeReach): void;
	onDepth(mm: number): void;
}) {
	const { points, reach, onReach, onDepth } = props;
	const session = useSession();
	const plan = session.plan.value;
	const unit = session.units.value;
	const canvas = useRef<HTMLCanvasElement>(null);
	const size = useSignal<readonly [number, number]>([0, 0]);
	const layout = useRef<TapeLayout | null>(null);
	const brushFrom = useRef<number | null>(null);
	useEffect(() => {
		const box = canvas.current as HTMLCanvasElement;
		const watch = new ResizeObserver(() => {
			size.value = [box.clientWidth, box.clientHeight];
		});
		watch.observe(box);
		return () => watch.disconnect();
	}, []);

	const [width, height] = size.value;
	const drawn = points.slice(reach[0], reach[1] + 1);
	const lit = pointed.value ?? holeShown.value;
	const brushed = run.value;
	const look = theme.value;
	const log = session.commission.value?.log ?? NO_LOG;
	useEffect(() => {
		const box = canvas.current;
		const pen = box?.getContext("2d");
		if (!box || !pen || !plan || width === 0) return;
		const ratio = Math.min(2, window.devicePixelRatio);
		box.width = Math.round(width * ratio);
		box.height = Math.round(height * ratio);
		pen.setTransform(ratio, 0, 0, ratio, 0, 0);
		const laid = layTape(drawn, width, height - BASE - HEAD, unit);
		layout.current = laid;
		onDepth(laid.fullDepth);
		drawTape(
			pen,
			{ plan, points: drawn, laid, pointed: lit, brushed: numbersInRun(plan, brushed), done: doneNumbers(log) },
			width,
			height,
			tapeColours(),
		);
	}, [points, reach[0], reach[1], width, height, lit, brushed, look, unit, log]);
	// What is pointed at elsewhere comes into sight.
	useEffect(() => {
		const at = points.findIndex((point) => point.number === lit);
		if (at >= 0) {
			const next = reachWith(reach, points.length, at);
			if (next !== reach) onReach(next);
		}
	}, [lit]);
	if (!plan) return null;

	const xOf = (event: MouseEvent): number =>
		event.clientX - (event.currentTarget as Element).getBoundingClientRect().left;
	/** Place in the whole order of work of a shown point. */
	const placeOf = (i: number): number => plan.points.indexOf(points[i]);
	const brush = (a: number, b: number): void => {
		run.value = [placeOf(Math.min(a, b)), placeOf(Math.max(a, b))];
	};
	const keys = (event: KeyboardEvent): void => {
		const at = points.findIndex((point) => point.number === pointed.value);
		const last = points.length - 1;
		const next: number | undefined = {
			ArrowRight: at + 1,
			ArrowUp: at + 1,
			ArrowLeft: at - 1,
			ArrowDown: at - 1,
			PageDown: at + 10,
			PageUp: at - 10,
			Home: 0,
			End: last,
		}[event.key];
		if (next === undefined) {
			const middle = at >= 0 ? at : (reach[0] + reach[1]) / 2;
			if (event.key === "Escape") {
				run.value = null;
				pointed.value = null;
			} else if ((event.key === "Enter" || event.key === " ") && at >= 0) {
				event.preventDefault();
				holeShown.value = points[at].number;
			} else if (event.key === "+" || event.key === "=") onReach(drawnOut(reach, points.length, 2, middle));
			else if (event.key === "-") onReach(drawnOut(reach, points.length, 0.5, middle));
			return;
		}
		event.preventDefault();
		const to = Math.max(0, Math.min(last, next));
		if (event.shiftKey) {
			brushFrom.current ??= Math.max(0, at);
			brush(brushFrom.current, to);
		} else brushFrom.current = null;
		pointed.value = points[to].number;
		// What is held goes along with the keys.
		if (holeShown.value !== null) holeShown.value = points[to].number;
	};
	const now = points.find((point) => point.number === lit) ?? null;
	return (
		<div class="tape-run">
			<canvas
				ref={canvas}
				tabIndex={0}
				role="slider"
				aria-label="points in the order of work"
				aria-valuemin={1}
				aria-valuemax={points.length}
				aria-valuenow={now ? points.indexOf(now) + 1 : 1}
				aria-valuetext={now ? pointSentence(now, plan, unit) : "no point"}
				onKeyDown={keys}
				onWheel={(event) => {
					event.preventDefault();
					const laid = layout.current;
					if (!laid) return;
					const sideways = event.shiftKey ? event.deltaY : event.deltaX;
					if (Math.abs(sideways) > Math.abs(event.shiftKey ? 0 : event.deltaY))
						onReach(slid(reach, points.length, Math.round(sideways / Math.max(4, laid.pitch))));
					else {
						const about = reach[0] + tapeIndexNear(laid, xOf(event));
						onReach(drawnOut(reach, points.length, Math.exp(-event.deltaY * 0.002), about));
					}
				}}
				onPointerMove={(event) => {
					const laid = layout.current;
					if (!laid) return;
					if (brushFrom.current !== null && event.buttons === 1) {
						const to = reach[0] + tapeIndexNear(laid, xOf(event));
						if (to !== brushFrom.current || run.value) brush(brushFrom.current, to);
					}
					const at = tapeIndexAt(laid, xOf(event));
					pointed.value = at === null ? null : drawn[at].number;
				}}
				onPointerDown={(event) => {
					if (!layout.current || event.button !== 0) return;
					event.currentTarget.setPointerCapture(event.pointerId);
					brushFrom.current = reach[0] + tapeIndexNear(layout.current, xOf(event));
					run.value = null;
					// A finger's tap comes without a move before it.
					const at = tapeIndexAt(layout.current, xOf(event));
					pointed.value = at === null ? null : drawn[at].number;
					if (at !== null) holeShown.value = drawn[at].number;
				}}
				onPointerUp={() => {
					brushFrom.current = null;
				}}
				onPointerLeave={(event) => {
					if (brushFrom.current === null && event.pointerType !== "touch") pointed.value = null;
				}}
			/>
			{brushed && (
				<button
					type="button"
					class="word run-clear"
					onClick={() => {
						run.value = null;
					}}
				>
					clear the run
				</button>
			)}
		</div>
	);
}
