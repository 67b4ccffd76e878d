/** Where the carver wants more points, fewer, or none. */

import type { Commission } from "../../core/plan/commission.ts";
import { Choices } from "../fields/Choice.tsx";
import { LengthField } from "../fields/LengthField.tsx";
import { factorWords, groundBrush, removeArea } from "../state/brush.ts";
import { useSession } from "../state/context.ts";
import { Card } from "./Card.tsx";
import { PickButton } from "./PickButton.tsx";

const FACTORS = [
	{ value: "0.6", words: "closer" },
	{ value: "1.5", words: "wider" },
	{ value: "0", words: "no points" },
	{ value: "1", words: "as it comes" },
] as const;

export function AreaCard() {
	const session = useSession();
	const { areas } = session.commission.value as Commission;
	return (
		<Card title="More points, fewer, or none" place="areas">
			<p class="reason">
				Brush over the model: closer for a face, wider or no points for a back that stays rough. Ground without points
				is not held by any join and is listed so.
			</p>
			<Choices
				inRow
				label="brush for points"
				value={String(groundBrush.value.factor)}
				options={FACTORS.map(({ value, words }) => ({ value: value as string, words }))}
				onSet={(value) => {
					groundBrush.value = { ...groundBrush.value, factor: Number(value) };
				}}
			/>
			<LengthField
				label="brush reaches"
				mm={groundBrush.value.radius}
				least={1}
				most={500}
				onSet={(radius) => {
					groundBrush.value = { ...groundBrush.value, radius };
					return null;
				}}
			/>
			<div class="acts">
				<PickButton pick={{ kind: "brush" }} words="Brush on the model" done="Done brushing" />
			</div>
			{areas.map(({ name, factor, dabs }, i) => (
				<div class="entry" key={`${name} ${i}`}>
					<header>
						<h4>
							{name}
							<span class="reason">
								{" "}
								{factorWords(factor)}
								{factor === 0 || factor === 1 ? "" : ` × ${factor}`},{" "}
								{dabs.length === 1 ? "1 dab" : `${dabs.length} dabs`}
							</span>
						</h4>
						<button type="button" class="word" onClick={() => void removeArea(session, i)}>
							remove
						</button>
					</header>
				</div>
			))}
		</Card>
	);
}
