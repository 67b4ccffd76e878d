/** Which side is worked when, where the middle lies, and how far the arm moves. */

import type { Commission } from "../../core/plan/commission.ts";
import { Choices } from "../fields/Choice.tsx";
import { LengthField } from "../fields/LengthField.tsx";
import { useSession } from "../state/context.ts";
import { usePlanInTurn } from "../state/inTurn.ts";
import { Card, Figures } from "./Card.tsx";

export function OrderCard() {
	const session = useSession();
	const unit = session.units.value;
	const { sides, middle, drilled } = session.commission.value as Commission;
	const { travel } = usePlanInTurn() ?? {};
	const far = (mm: number): string => (unit === "mm" ? `${(mm / 1000).toFixed(1)} m` : `${(mm / 304.8).toFixed(0)} ft`);
	return (
		<Card title="Order of work" place="order">
			<Choices
				label="sides"
				value={sides}
				options={[
					{ value: "together", words: "as they come" },
					{ value: "left first", words: "proper left first" },
					{ value: "right first", words: "proper right first" },
					{ value: "in pairs", words: "left and right in pairs" },
				]}
				onSet={(value) => void session.change(`sides ${value}`, (c) => ({ ...c, sides: value }))}
			/>
			<LengthField
				label="middle plane, towards the model's left"
				mm={middle === null ? null : middle.offset_mm}
				empty="in the middle"
				least={-20000}
				most={20000}
				onSet={(offset_mm) =>
					session.change("move the middle plane", (c) => ({
						...c,
						middle: { normal: c.middle?.normal ?? [1, 0, 0], offset_mm },
					}))
				}
			/>
			{middle !== null && (
				<button
					type="button"
					class="word"
					onClick={() => void session.change("middle plane as usual", (c) => ({ ...c, middle: null }))}
				>
					put in the middle
				</button>
			)}
			{travel && (
				<Figures
					rows={[
						["way of the arm", far(travel.order_mm)],
						["always to the nearest", far(travel.nearest_mm)],
						["by lot", far(travel.random_mm)],
					]}
				/>
			)}
			{drilled.length > 0 && (
				<p class="reason">
					{drilled.length === 1 ? "1 point is drilled and keeps" : `${drilled.length} points are drilled and keep`}{" "}
					number, place and line; new points count on from the highest number.
				</p>
			)}
		</Card>
	);
}
