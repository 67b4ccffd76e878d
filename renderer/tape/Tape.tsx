/** The tape: every point in the order of work, one stroke each, as high as its hole is deep. */

import { useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { lengthText } from "../../core/text/format.ts";
import { penMark } from "../banker/markPen.ts";
import { useSession } from "../state/context.ts";
import { letThrough, pointSentence } from "../state/points.ts";
import { pointed, pointFilter, run, tapeFolded, theme } from "../state/ui.ts";
import { layTape, type TapeLayout, tapeIndexAt, tapeIndexNear } from "./tapeLayout.ts";

const BASE = 22;
const HEAD = 20;

export function Tape() {
	const session = useSession();
	const plan = session.plan.value;
	const folded = tapeFolded.value;
	const canvas = useRef<HTMLCanvasElement>(null);
	const size = useSignal<readonly [number, number]>([0, 0]);
	const layout = useRef<TapeLayout | null>(null);
	const brushFrom = useRef<number | null>(null);
	const unit = session.units.value;

	useEffect(() => {
		const box = canvas.current;
		if (!box) return;
		const watch = new ResizeObserver(() => {
			size.value = [box.clientWidth, box.clientHeight];
		});
		watch.observe(box);
		return () => watch.disconnect();
	}, [plan === null, folded]);

	const [width, height] = size.value;
	const lit = pointed.value;
	const brushed = run.value;
	const filter = pointFilter.value;
	const look = theme.value;
	useEffect(() => {
		const box = canvas.current;
		const pen = box?.getContext("2d");
		if (!box || !pen || !plan || width === 0) return;
		const ratio = Math.min(2, window.devicePixelRatio);
		box.width = Math.round(width * ratio);
		box.height = Math.round(height * ratio);
		pen.setTransform(ratio, 0, 0, ratio, 0, 0);
		layout.current = layTape(plan.points, width, height - BASE - HEAD);
		drawTape(pen, layout.current, width, height);
	}, [plan, width, height, lit, brushed, filter, look, unit, folded]);

	function drawTape(pen: CanvasRenderingContext2D, laid: TapeLayout, w: number, h: number): void {
		if (!plan) return;
		const style = getComputedStyle(document.documentElement);
		const of = (name: string): string => style.getPropertyValue(name).trim();
		const ink = of("--tape-ink");
		const floor = h - BASE;
		pen.clearRect(0, 0, w, h);
		if (brushed) {
			const from = laid.strokes[brushed[0]];
			const until = laid.strokes[brushed[1]];
			if (from && until) {
				pen.fillStyle = of("--tape-brush");
				pen.fillRect(from.x - laid.pitch / 2, 0, until.x - from.x + laid.pitch, h);
			}
		}
		pen.strokeStyle = of("--tape-line");
		pen.lineWidth = 1;
		line(pen, 0, floor + 0.5, w, floor + 0.5);
		pen.font = `11px ${of("--hand")}`;
		pen.textBaseline = "middle";
		for (const part of laid.runs) {
			pen.strokeStyle = of("--tape-line");
			line(pen, Math.round(part.x) + 0.5, 0, Math.round(part.x) + 0.5, h);
			penMark(pen, part.x + 9, HEAD / 2, part.round, null, false, 4.5);
			const lie = part.lie === null ? "undercut" : plan.lies[part.lie].name;
			const words = plan.lies.length > 1 ? `${plan.rounds[part.round].name}, ${lie}` : plan.rounds[part.round].name;
			pen.fillStyle = ink;
			pen.textAlign = "left";
			if (pen.measureText(words).width + 22 < part.width) pen.fillText(words, part.x + 18, HEAD / 2 + 0.5);
		}
		const strokeWidth = Math.max(1, Math.min(5, laid.pitch * 0.55));
		plan.points.forEach((point, i) => {
			const { x, height: tall } = laid.strokes[i];
			const through = letThrough(point, filter, plan);
			const isLit = point.number === lit;
			pen.globalAlpha = through || isLit ? 1 : 0.25;
			pen.fillStyle = isLit ? of("--raddle") : ink;
			if (tall > 0) {
				const wide = isLit ? Math.max(4, strokeWidth + 2) : strokeWidth;
				pen.fillRect(x - wide / 2, floor - tall, wide, tall);
			} else {
				pen.strokeStyle = pen.fillStyle;
				pen.lineWidth = 1.4;
				const a = Math.min(3, laid.pitch / 2);
				line(pen, x - a, floor - 4 - a, x + a, floor - 4 + a);
				line(pen, x - a, floor - 4 + a, x + a, floor - 4 - a);
			}
			pen.globalAlpha = 1;
		});
		// Numbers as on a rule: as many as have room, tens before fives.
		pen.textAlign = "center";
		const every = [1, 5, 10, 20, 50, 100, 200, 500].find((n) => n * laid.pitch > 26) ?? 1000;
		pen.fillStyle = ink;
		plan.points.forEach((point, i) => {
			if ((i + 1) % every === 0 || i === 0) pen.fillText(String(point.number), laid.strokes[i].x, h - BASE / 2);
		});
		const at = plan.points.findIndex((point) => point.number === lit);
		if (at >= 0) {
			const text = String(plan.points[at].number);
			const x = laid.strokes[at].x;
			pen.font = `bold 12px ${of("--hand")}`;
			const room = pen.measureText(text).width / 2 + 4;
			pen.fillStyle = of("--raddle");
			pen.fillRect(x - room, h - BASE + 2, 2 * room, BASE - 4);
			pen.fillStyle = of("--on-raddle");
			pen.fillText(text, x, h - BASE / 2 + 0.5);
		}
	}

	const xOf = (event: PointerEvent): number =>
		event.clientX - (event.currentTarget as Element).getBoundingClientRect().left;
	const pointAt = (i: number | null): void => {
		pointed.value = i === null ? null : (plan?.points[i]?.number ?? null);
	};
	const keys = (event: KeyboardEvent): void => {
		if (!plan) return;
		const at = plan.points.findIndex((point) => point.number === pointed.value);
		const last = plan.points.length - 1;
		const next = {
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
			if (event.key === "Escape") {
				run.value = null;
				pointed.value = null;
			}
			return;
		}
		event.preventDefault();
		const to = Math.max(0, Math.min(last, next));
		if (event.shiftKey) {
			const anchor = brushFrom.current ?? Math.max(0, at);
			brushFrom.current = anchor;
			run.value = [Math.min(anchor, to), Math.max(anchor, to)];
		} else brushFrom.current = null;
		pointAt(to);
	};
	const now = plan?.points.find((point) => point.number === lit) ?? null;
	return (
		<section class={folded ? "tape folded" : "tape"} aria-label="tape">
			<div class="tape-side">
				<span>
					<b>{plan ? `${plan.points.length} points` : "Tape"}</b>
					{plan && !folded && layout.current && `to ${lengthText(layout.current.fullDepth, unit, 0)} deep`}
				</span>
				<span>
					{brushed && !folded && (
						<button
							type="button"
							class="word"
							onClick={() => {
								run.value = null;
							}}
						>
							clear the run
						</button>
					)}{" "}
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
				(plan ? (
					<div class="tape-run">
						<canvas
							ref={canvas}
							tabIndex={0}
							role="slider"
							aria-label="points in the order of work"
							aria-valuemin={1}
							aria-valuemax={plan.points.length}
							aria-valuenow={now ? plan.points.indexOf(now) + 1 : 1}
							aria-valuetext={now ? pointSentence(now, plan, unit) : "no point"}
							onKeyDown={keys}
							onPointerMove={(event) => {
								const laid = layout.current;
								if (!laid) return;
								if (brushFrom.current !== null && event.buttons === 1) {
									const to = tapeIndexNear(laid, xOf(event));
									const from = brushFrom.current;
									if (to !== from || run.value) run.value = [Math.min(from, to), Math.max(from, to)];
								}
								pointAt(tapeIndexAt(laid, xOf(event)));
							}}
							onPointerDown={(event) => {
								if (!layout.current || event.button !== 0) return;
								event.currentTarget.setPointerCapture(event.pointerId);
								brushFrom.current = tapeIndexNear(layout.current, xOf(event));
								run.value = null;
							}}
							onPointerUp={() => {
								brushFrom.current = null;
							}}
							onPointerLeave={() => {
								if (brushFrom.current === null) pointed.value = null;
							}}
						/>
					</div>
				) : (
					<p class="tape-empty">Here every point gets a stroke in the order of work, as high as its hole is deep.</p>
				))}
		</section>
	);
}

function line(pen: CanvasRenderingContext2D, x0: number, y0: number, x1: number, y1: number): void {
	pen.beginPath();
	pen.moveTo(x0, y0);
	pen.lineTo(x1, y1);
	pen.stroke();
}
