/** The points as a real table, narrow in the day book, with every column over the banker; only the rows in view are made. */

import { useComputed, useSignal, useSignalEffect } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import type { Plan, PlanPoint } from "../../core/plan/planFile.ts";
import { depthNumber, type LengthUnit, sentenceIn, sizeNumber } from "../../core/text/format.ts";
import { useSession } from "../state/context.ts";
import { usePlanInTurn } from "../state/inTurn.ts";
import { AGAIN, arePointsOld } from "../state/outdated.ts";
import { depthText, leanText, letThrough, placeText, safeText } from "../state/points.ts";
import { holeShown, pointed, pointFilter, run } from "../state/ui.ts";
import { PointMark } from "./PointMark.tsx";

const ROW = 27;
const SPARE_ROWS = 6;

interface Column {
	readonly head: string;
	readonly long: string;
	readonly words?: boolean;
	cell(point: PlanPoint, plan: Plan, unit: LengthUnit): string;
}

const COLUMNS: readonly Column[] = [
	{ head: "round", long: "round", words: true, cell: (p, plan) => plan.rounds[p.round]?.name ?? "" },
	{ head: "lie", long: "lie", words: true, cell: (p, plan) => (p.lie === null ? "" : plan.lies[p.lie].name) },
	{ head: "face", long: "face", words: true, cell: (p) => p.face ?? "" },
	{ head: "u", long: "u on the face", cell: (p, _, unit) => placeText(p.u_mm, unit) },
	{ head: "v", long: "v on the face", cell: (p, _, unit) => placeText(p.v_mm, unit) },
	{ head: "lean u", long: "lean along u", cell: (p) => leanText(p, 0) },
	{ head: "lean v", long: "lean along v", cell: (p) => leanText(p, 1) },
	{
		head: "drill",
		long: "drill diameter",
		cell: (p, plan, unit) => (p.undercut ? "" : sizeNumber(plan.rounds[p.round].tool.drill_mm, unit)),
	},
	{ head: "depth", long: "depth to the tip", cell: (p, _, unit) => depthText(p, unit) },
	{ head: "safe to", long: "lean error that the depth forgives", cell: safeText },
	{
		head: "to go",
		long: "expected to go",
		cell: (p, _, unit) => (p.toGo_mm === null ? "" : depthNumber(p.toGo_mm, unit)),
	},
	{ head: "remark", long: "remark", words: true, cell: (p, _, unit) => remark(p, unit) },
];
const NARROW = new Set(["face", "u", "v", "depth"]);

const remark = (p: PlanPoint, unit: LengthUnit): string =>
	p.undercut ? `undercut: ${sentenceIn(unit, p.reason)}` : p.byEye ? "by eye" : p.kind === "picked" ? "picked" : "";

export function PointList({ wide }: { wide: boolean }) {
	const session = useSession();
	const plan = usePlanInTurn();
	const scroller = useRef<HTMLElement>(null);
	const top = useSignal(0);
	const height = useSignal(wide ? 800 : 290);
	useEffect(() => {
		const box = scroller.current;
		if (!box) return;
		const watch = new ResizeObserver(() => {
			height.value = box.clientHeight;
		});
		watch.observe(box);
		return () => watch.disconnect();
	}, [plan === null]);
	const shownRun = run.value;
	const rows = plan
		? plan.points.filter(
				(point, i) =>
					letThrough(point, pointFilter.value, plan) && (!shownRun || (i >= shownRun[0] && i <= shownRun[1])),
			)
		: [];
	const listed = useRef(rows);
	listed.current = rows;
	// Pointing at the tape or the banker brings the row into view, unless the list itself is being pointed at, or a hole is held.
	useSignalEffect(() => {
		const lit = holeShown.value ?? pointed.value;
		const box = scroller.current;
		if (!box || lit === null || box.matches(":hover")) return;
		const at = listed.current.findIndex((point) => point.number === lit);
		if (at < 0) return;
		const y = at * ROW;
		if (y < box.scrollTop || y > box.scrollTop + box.clientHeight - 3 * ROW)
			box.scrollTop = Math.max(0, y - box.clientHeight / 2);
	});
	if (!plan) return null;
	const old = arePointsOld(session);
	const columns = wide ? COLUMNS : COLUMNS.filter((column) => NARROW.has(column.head));
	const first = Math.max(0, Math.floor(top.value / ROW) - SPARE_ROWS);
	const last = Math.min(rows.length, Math.ceil((top.value + height.value) / ROW) + SPARE_ROWS);
	return (
		<section
			class={`scroller ${wide ? "whole-list" : "compact-list"}${old ? " old-points" : ""}`}
			ref={scroller}
			aria-label="list of points"
			onScroll={(event) => {
				top.value = event.currentTarget.scrollTop;
			}}
			onPointerLeave={() => {
				pointed.value = null;
			}}
		>
			{old && <p class="list-again">{AGAIN}</p>}
			<table class="list" aria-rowcount={rows.length + 1}>
				<thead>
					<tr aria-rowindex={1}>
						<th scope="col">no.</th>
						{columns.map((column) => (
							<th scope="col" class={column.words ? "words" : ""} key={column.head} title={column.long}>
								{column.head}
							</th>
						))}
					</tr>
				</thead>
				<tbody>
					<Spacer rows={first} columns={columns.length + 1} />
					{rows.slice(first, last).map((point, i) => (
						<Row key={point.number} point={point} index={first + i + 2} columns={columns} wide={wide} plan={plan} />
					))}
					<Spacer rows={rows.length - last} columns={columns.length + 1} />
				</tbody>
			</table>
			{rows.length === 0 && <p class="reason">No point is let through by the filter.</p>}
		</section>
	);
}

/** Follows for itself whether it is pointed at: the others need not be made anew for it. */
function Row(props: {
	readonly point: PlanPoint;
	readonly index: number;
	readonly columns: readonly Column[];
	readonly wide: boolean;
	readonly plan: Plan;
}) {
	const { point, index, columns, wide, plan } = props;
	const unit = useSession().units.value;
	const { number } = point;
	const isLit = useComputed(() => pointed.value === number || holeShown.value === number);
	return (
		<tr
			class={isLit.value ? "pick pointed" : "pick"}
			aria-rowindex={index}
			onPointerEnter={() => {
				pointed.value = point.number;
			}}
			onClick={() => {
				holeShown.value = point.number;
			}}
		>
			<td>
				<PointMark round={point.round} side={point.side} undercut={point.undercut} />
				<button
					type="button"
					class="number-button"
					aria-label={`show point ${point.number}`}
					onFocus={() => {
						pointed.value = point.number;
					}}
					onClick={() => {
						pointed.value = point.number;
					}}
				>
					{point.number}
				</button>
			</td>
			{!wide && point.undercut ? (
				<td class="words" colSpan={columns.length} title={sentenceIn(unit, point.reason)}>
					undercut
				</td>
			) : (
				columns.map((column) => {
					const text = column.cell(point, plan, unit);
					return (
						<td
							key={column.head}
							class={column.words ? (column.head === "remark" ? "words long" : "words") : ""}
							title={column.head === "remark" ? text : undefined}
						>
							{text}
						</td>
					);
				})
			)}
		</tr>
	);
}

function Spacer({ rows, columns }: { rows: number; columns: number }) {
	if (rows <= 0) return null;
	return (
		<tr style={{ height: `${rows * ROW}px` }}>
			<td colSpan={columns} style={{ padding: "0", border: "0" }} />
		</tr>
	);
}
