/** Placing the figure anew in the stone that is left: after a break or a flaw, holes too deep, or a client's change. */

import { useSignal } from "@preact/signals";
import { standings } from "../../core/bench/log.ts";
import type { LeftPlane } from "../../core/bench/remains.ts";
import type { Commission } from "../../core/plan/commission.ts";
import type { Plan } from "../../core/plan/planFile.ts";
import { revised } from "../../core/plan/revision.ts";
import { anewText, breachText, tooDeepText } from "../../core/text/anewWords.ts";
import { finely, lengthNumber, unitWord } from "../../core/text/format.ts";
import { place, scale, type Vec3 } from "../../core/vector.ts";
import { Tick } from "../fields/Choice.tsx";
import { LengthField } from "../fields/LengthField.tsx";
import { NumberField } from "../fields/NumberField.tsx";
import type { AnewShown } from "../jobs/shown.ts";
import { useSession } from "../state/context.ts";
import { resized, roundScale } from "../state/size.ts";
import { troubleWords } from "../state/troubleWords.ts";
import { pointed, setTrouble } from "../state/ui.ts";
import { Card } from "./Card.tsx";

const WAYS = ["to the right", "to the back", "up"] as const;
/** Lines of each list; the rest by number. */
const SHOWN = 10;

/** Where the stone is parted by a flaw: the side on which most of the figure lies stays. */
function beyond(flaw: Plan["stone"]["flaws"][number], plan: Plan): LeftPlane {
	const [nx, ny, nz, b] = flaw.plane;
	const size = plan.model.size_mm;
	const [x, y, z] = place(plan.stone.placement, [0, 0, size[2] / 2]);
	const out = nx * x + ny * y + nz * z > b ? -1 : 1;
	return {
		name: flaw.name,
		normal: [out * nx, out * ny, out * nz],
		offset: out * b - flaw.thickness_mm / 2,
	};
}

export function AnewCard() {
	const session = useSession();
	const plan = session.plan.value;
	const unit = session.units.value;
	const wish = useSignal<Vec3>([0, 0, 0]);
	const least = useSignal(100);
	const faceLoss = useSignal<Readonly<Record<string, number>>>({});
	const parted = useSignal<ReadonlySet<string>>(new Set());
	const answer = useSignal<{ readonly of: Plan; readonly shown: AnewShown } | null>(null);
	if (!plan) return null;
	const found = answer.value?.of === plan ? answer.value.shown : null;
	const set = <T,>(signal: { value: T }, value: T): null => {
		signal.value = value;
		answer.value = null;
		return null;
	};
	const lost = (): LeftPlane[] => [
		...plan.stone.faces.flatMap(({ name, normal, origin_mm }) => {
			const by = faceLoss.value[name] ?? 0;
			const offset = normal[0] * origin_mm[0] + normal[1] * origin_mm[1] + normal[2] * origin_mm[2];
			return by > 0 ? [{ name: `${name}, as it is now`, normal, offset: offset - by }] : [];
		}),
		...plan.stone.flaws.filter((flaw) => parted.value.has(flaw.name)).map((flaw) => beyond(flaw, plan)),
	];
	const ask = async (): Promise<void> => {
		setTrouble("anew", null);
		try {
			const shown = await session.askAnew({ wish: wish.value, leastScale: least.value / 100, lost: lost() });
			if (shown) answer.value = { of: plan, shown };
		} catch (trouble) {
			setTrouble("anew", troubleWords(trouble));
		}
	};
	const take = (shown: AnewShown): void => {
		const { quaternion, translation } = shown.hand;
		const byHand = { quaternion, translation_mm: translation };
		const changes = `Placed anew: ${anewText(shown.placed, unit)}`;
		const recipe = (c: Commission): Commission => {
			const sized = shown.placed.scale < 1 ? resized(c, roundScale(c.model.scale * shown.placed.scale)) : c;
			return revised({ ...sized, stone: { ...sized.stone, byHand } }, changes);
		};
		setTrouble("anew", session.change("take the figure's new place", recipe, { places: true }));
	};
	return (
		<Card title="Place anew in the stone that is left" place="anew">
			<p class="reason">
				After a break, a flaw or holes too deep, or when the figure is to be moved: the smallest shift and turn that
				keeps every target under stone, or what would be lacking. What is done and read counts as it stands in the log.
			</p>
			{WAYS.map((way, axis) => (
				<LengthField
					key={way}
					label={`wanted ${way}`}
					mm={wish.value[axis]}
					standard={0}
					least={-500}
					most={500}
					onSet={(mm) => set(wish, wish.value.map((old, k) => (k === axis ? mm : old)) as unknown as Vec3)}
				/>
			))}
			<NumberField
				label="may be reduced to"
				unit="%"
				value={least.value}
				standard={100}
				least={50}
				most={100}
				onSet={(percent) => set(least, percent)}
			/>
			{plan.stone.faces.map(({ name }) => (
				<LengthField
					key={name}
					label={`lost from the ${name}`}
					mm={faceLoss.value[name] ?? 0}
					standard={0}
					most={2000}
					onSet={(mm) => set(faceLoss, { ...faceLoss.value, [name]: mm })}
				/>
			))}
			{plan.stone.flaws.map(({ name }) => (
				<Tick
					key={name}
					label={`parted at ${name}`}
					value={parted.value.has(name)}
					onSet={(on) => {
						const next = new Set(parted.value);
						if (on) next.add(name);
						else next.delete(name);
						return set(parted, next);
					}}
				/>
			))}
			<div class="acts">
				<button type="button" class="act main" disabled={session.stale.value} onClick={() => void ask()}>
					Work it out
				</button>
				{found && found.placed.answer !== "stays" && (
					<button type="button" class="act" onClick={() => take(found)}>
						Take this place, as a new revision
					</button>
				)}
			</div>
			{found && <Found shown={found} plan={plan} />}
		</Card>
	);
}

function Found({ shown: { placed, numbers, planes }, plan }: { shown: AnewShown; plan: Plan }) {
	const unit = useSession().units.value;
	const { before, after } = placed.tooDeep;
	return (
		<>
			<p class={placed.answer === "breach" ? "trouble" : "news"} role="status">
				{anewText(placed, unit)}
			</p>
			{placed.breaches.length > 0 && (
				<ul class="log-list">
					{placed.breaches.slice(0, SHOWN).map((breach) => (
						<li key={`${breach.kind} ${breach.index} ${breach.plane}`}>{breachText(breach, numbers, planes, unit)}</li>
					))}
				</ul>
			)}
			<Deep title="Holes too deep where it lies now" deep={before} numbers={numbers} />
			<Deep title="Holes too deep where it would lie: to be made good" deep={after} numbers={numbers} />
			<Carried shown={{ placed, numbers }} plan={plan} />
		</>
	);
}

function Deep(props: { title: string; deep: AnewShown["placed"]["tooDeep"]["after"]; numbers: readonly number[] }) {
	const { title, deep, numbers } = props;
	const session = useSession();
	const unit = session.units.value;
	if (deep.length === 0) return null;
	const known = standings(session.commission.value?.log ?? []);
	return (
		<>
			<h4>{title}</h4>
			<ul class="log-list">
				{deep.slice(0, SHOWN).map(({ target, by }) => (
					<li
						key={target}
						onPointerEnter={() => {
							pointed.value = numbers[target];
						}}
					>
						{tooDeepText(numbers[target], by, known.get(numbers[target])?.over ?? null, unit)}
					</li>
				))}
				{deep.length > SHOWN && <li>and {deep.length - SHOWN} more</li>}
			</ul>
		</>
	);
}

/** How far the figure's foot and top are carried, which a rule can check. */
function Carried({ shown: { placed }, plan }: { shown: Pick<AnewShown, "placed" | "numbers">; plan: Plan }) {
	const unit = useSession().units.value;
	const rows = [
		["foot", 0],
		["top", plan.model.size_mm[2]],
	] as const;
	return (
		<table class="list">
			<thead>
				<tr>
					<th scope="col" class="words">
						carried
					</th>
					<th scope="col">right</th>
					<th scope="col">back</th>
					<th scope="col">up</th>
				</tr>
			</thead>
			<tbody>
				{rows.map(([words, height]) => {
					const was = place(plan.stone.placement, [0, 0, height]);
					const turned = place({ rotation: placed.motion.rotation, translation: [0, 0, 0] }, was);
					const is = scale(turned, placed.scale).map((x, k) => x + placed.motion.translation[k]);
					return (
						<tr key={words}>
							<td class="words">
								{words} ({unitWord(unit)})
							</td>
							{is.map((x, k) => (
								<td key={WAYS[k]}>{lengthNumber(x - was[k], finely(unit))}</td>
							))}
						</tr>
					);
				})}
			</tbody>
		</table>
	);
}
