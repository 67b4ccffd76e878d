/** The rounds: what each leaves standing, how dense its points come, and what was placed. */

import { type Commission, type Round, roundSchema, type Tool } from "../../core/plan/commission.ts";
import { lengthText, shareText, sizeText } from "../../core/text/format.ts";
import { Choices, Select } from "../fields/Choice.tsx";
import { LengthField } from "../fields/LengthField.tsx";
import { NumberField } from "../fields/NumberField.tsx";
import { TextField } from "../fields/TextField.tsx";
import { useSession } from "../state/context.ts";
import { usePlanInTurn } from "../state/inTurn.ts";
import type { Session } from "../state/session.ts";
import { colouring, page } from "../state/ui.ts";
import { manyText } from "../words/health.ts";
import { Card, Figures } from "./Card.tsx";
import { DensityFields } from "./DensityFields.tsx";
import { PointMark } from "./PointMark.tsx";

const MOST_ROUNDS = 12;
const PLAIN_TOOL = roundSchema.parse({ name: "plain", join_mm: 1 }).tool;

function setRounds(session: Session, words: string, recipe: (rounds: readonly Round[]) => Round[], key = "") {
	return session.change(words, (c) => ({ ...c, rounds: recipe(c.rounds) }), { key });
}

export function RoundCard() {
	const session = useSession();
	const { rounds } = session.commission.value as Commission;
	const standard = session.standard.value?.rounds;
	const changed = standard !== undefined && JSON.stringify(rounds) !== JSON.stringify(standard);
	return (
		<Card title="Rounds" shows={["plan"]} place="rounds">
			<DensityFields />
			{rounds.map((round, i) => (
				<RoundEntry key={`${i}`} round={round} index={i} count={rounds.length} standard={standard?.[i]} />
			))}
			<div class="acts">
				<button
					type="button"
					class="act"
					disabled={rounds.length >= MOST_ROUNDS}
					onClick={() => {
						const last = rounds[rounds.length - 1];
						const join = Math.max(1, last.join_mm / 2);
						void setRounds(session, "add a round", (all) => [
							...all,
							{
								...last,
								name: `finer net ${all.length + 1 - 4 > 1 ? all.length + 1 - 4 : ""}`.trim(),
								kind: "net",
								join_mm: join,
							},
						]);
					}}
				>
					Add a finer round
				</button>
				{changed && (
					<button
						type="button"
						class="word"
						onClick={() => void setRounds(session, "put the rounds back", () => [...(standard ?? [])])}
					>
						put all back
					</button>
				)}
			</div>
		</Card>
	);
}

function RoundEntry(props: { round: Round; index: number; count: number; standard: Round | undefined }) {
	const { round, index, count, standard } = props;
	const session = useSession();
	const unit = session.units.value;
	const done = usePlanInTurn()?.rounds[index];
	const net = round.kind === "net";
	const set = (words: string, part: Partial<Round>, key = ""): string | null =>
		setRounds(
			session,
			`${round.name}: ${words}`,
			(all) => all.map((one, i) => (i === index ? { ...one, ...part } : one)),
			key && `round ${index} ${key}`,
		);
	const setTool = (words: string, part: Partial<Tool>, key = ""): string | null =>
		set(words, { tool: { ...round.tool, ...part } }, key);
	return (
		<div class="entry">
			<header>
				<PointMark round={index} />
				<h4>{round.name}</h4>
				{count > 1 && (
					<button
						type="button"
						class="word"
						aria-label={`leave out the round ${round.name}`}
						onClick={() =>
							void setRounds(session, `leave out ${round.name}`, (all) => all.filter((_, i) => i !== index))
						}
					>
						leave out
					</button>
				)}
			</header>
			<LengthField
				label="leave standing at the join"
				mm={round.join_mm}
				standard={standard?.join_mm}
				least={0.5}
				most={100}
				onSet={(mm) => set(`join ${sizeText(mm, unit)}`, { join_mm: mm }, "join")}
			/>
			{net && round.count === null && (
				<NumberField
					label="eye factor"
					value={round.eyeFactor}
					standard={standard?.eyeFactor}
					least={1}
					most={10}
					step={0.1}
					onSet={(value) => set(`eye factor ${value}`, { eyeFactor: value }, "eye")}
				/>
			)}
			{net && round.count !== null && (
				<NumberField
					label="number of points"
					value={round.count}
					least={1}
					most={5000}
					whole
					step={5}
					onSet={(value) => set(manyText(value, "point"), { count: value }, "count")}
				/>
			)}
			{done && (
				<Figures
					rows={[
						["points placed · foreseen", `${done.points} · ${Math.round(done.foreseen)}`],
						...(done.earlier > 0 ? ([["of earlier rounds, counted too", `${done.earlier}`]] as const) : []),
						...(done.leastCover_mm === null
							? []
							: ([
									[
										"least cover left",
										lengthText(done.leastCover_mm, unit, 2),
										done.plannedCover_mm !== null && done.leastCover_mm < done.plannedCover_mm - 0.05
											? "bad"
											: undefined,
										done.plannedCover_mm === null ? undefined : `planned ${lengthText(done.plannedCover_mm, unit, 2)}`,
									],
								] as const)),
						...(done.claimedShare === null ? [] : ([["of the surface held", shareText(done.claimedShare)]] as const)),
						...done.unclaimed
							.filter(({ share }) => share >= 0.001)
							.map(({ reason, share }) => [`not held: ${reason}`, shareText(share)] as const),
					]}
				/>
			)}
			{done && done.plannedCover_mm !== null && done.plannedCover_mm < 0 && (
				<p class="reason">
					Below zero by plan: at an eye factor over 1 a flat join would cut in between the points. There the curve is
					read from the model; the maps hatch that ground.
				</p>
			)}
			<div class="acts">
				{net && session.maps.value?.covers[index] && (
					<button
						type="button"
						class="word"
						onClick={() => {
							colouring.value = { kind: "cover", round: index };
							page.value = "points";
						}}
					>
						show its cover
					</button>
				)}
			</div>
			<details class="more">
				<summary>name, density, drill</summary>
				<TextField
					label="name"
					value={round.name}
					standard={standard?.name}
					most={60}
					onSet={(name) => set(`call it ${name}`, { name })}
				/>
				{net && (
					<Choices
						inRow
						label="density from"
						value={round.count === null ? "cover" : "count"}
						options={[
							{ value: "cover", words: "by cover" },
							{ value: "count", words: "by number" },
						]}
						onSet={(value) =>
							void set(value === "cover" ? "points by cover" : "points by number", {
								count: value === "cover" ? null : Math.max(1, done?.points ?? 40),
							})
						}
					/>
				)}
				<ToolFields tool={round.tool} standard={standard?.tool ?? PLAIN_TOOL} set={setTool} />
				<LengthField
					label="left by the drill, over the target"
					mm={round.stop_mm}
					empty={done ? lengthText(done.allowance_mm, unit) : "as holes say"}
					least={0.1}
					most={100}
					onSet={(mm) => set(`stop ${sizeText(mm, unit)}`, { stop_mm: mm }, "stop")}
				/>
				{round.stop_mm !== null && (
					<button type="button" class="word" onClick={() => void set("stop as usual", { stop_mm: null })}>
						as the holes say
					</button>
				)}
			</details>
		</div>
	);
}

function ToolFields(props: {
	tool: Tool;
	standard: Tool;
	set(words: string, part: Partial<Tool>, key?: string): string | null;
}) {
	const { tool, standard, set } = props;
	const unit = useSession().units.value;
	const length = (
		label: string,
		key: "drill_mm" | "oversize_mm" | "reach_mm" | "chuck_mm" | "setZero_mm",
		least: number,
		most: number,
	) => (
		<LengthField
			label={label}
			mm={tool[key]}
			standard={standard[key]}
			least={least}
			most={most}
			onSet={(mm) => set(`${label} ${sizeText(mm, unit)}`, { [key]: mm }, key)}
		/>
	);
	return (
		<>
			{length("drill diameter", "drill_mm", 0.5, 60)}
			<Select
				label="end of the drill"
				value={tool.tip}
				standard={standard.tip}
				options={[
					{ value: "flat", words: "flat (masonry, core)" },
					{ value: "ball", words: "ball (burr)" },
					{ value: "pointed", words: "pointed" },
				]}
				onSet={(tip) => void set(`${tip} end`, { tip })}
			/>
			{tool.tip === "pointed" && (
				<NumberField
					label="point angle"
					value={tool.pointAngle_deg}
					standard={standard.pointAngle_deg}
					unit="°"
					least={30}
					most={175}
					onSet={(value) => set(`point angle ${value}°`, { pointAngle_deg: value }, "angle")}
				/>
			)}
			<Select
				label="works by"
				value={tool.action}
				standard={standard.action}
				options={[
					{ value: "carbide", words: "rotary carbide" },
					{ value: "diamond", words: "diamond or burr" },
					{ value: "hammer", words: "hammer action" },
				]}
				onSet={(action) => void set(`${action} drill`, { action })}
			/>
			{length("hole wider by", "oversize_mm", 0, 5)}
			{length("reach", "reach_mm", 1, 5000)}
			{length("chuck across", "chuck_mm", 1, 500)}
			{length("stop reads at the skin", "setZero_mm", -200, 200)}
		</>
	);
}
