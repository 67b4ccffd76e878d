/** Natural bed and flaws: how the stone grew, what runs through it, and what of the figure must be kept clear of it. */

import type { Commission } from "../../core/plan/commission.ts";
import type { LeastAngle } from "../../core/stone/leastAngle.ts";
import { degreesFromCosine } from "../../core/text/angle.ts";
import { angleText, lengthText, sizeText } from "../../core/text/format.ts";
import { Select } from "../fields/Choice.tsx";
import { LengthField } from "../fields/LengthField.tsx";
import { NumberField } from "../fields/NumberField.tsx";
import { TextField } from "../fields/TextField.tsx";
import { useSession } from "../state/context.ts";
import { pickSound } from "../state/sound.ts";
import { Card } from "./Card.tsx";
import { PlaceFields } from "./PlaceFields.tsx";
import { withStone } from "./withStone.ts";

type Stone = Commission["stone"];
type Bed = NonNullable<Stone["naturalBed"]>;
type Flaw = Stone["flaws"][number];

const BEDS = [
	{ value: "none", words: "not known" },
	{ value: "0 0 1", words: "lies flat, as in the quarry" },
	{ value: "1 0 0", words: "stands on edge, left to right" },
	{ value: "0 1 0", words: "stands on edge, front to back" },
];
const MODEL_WAYS = [
	{ value: "0 0 1", words: "its height" },
	{ value: "1 0 0", words: "its width" },
	{ value: "0 1 0", words: "its depth" },
];
const vector = (words: string): [number, number, number] => words.split(" ").map(Number) as [number, number, number];
const named = (v: readonly number[], among: readonly { readonly value: string }[]): string =>
	among.find((one) => one.value === v.join(" "))?.value ?? among[1].value;

export function NatureCard() {
	const session = useSession();
	const { stone } = session.commission.value as Commission;
	const nature = session.answers.value?.nature;
	const bed = stone.naturalBed;
	const wish = session.answers.value?.stone?.wish;
	const setBed = (words: string, naturalBed: Bed | null): void =>
		void session.change(words, (c) => withStone(c, { naturalBed }));
	return (
		<Card title="Natural bed and flaws" shows={["nature"]} place="nature">
			<Select
				label="natural bed"
				value={bed ? named(bed.normal, BEDS) : "none"}
				standard="none"
				options={BEDS}
				onSet={(value) =>
					setBed(
						value === "none" ? "bed not known" : `natural bed ${BEDS.find((one) => one.value === value)?.words}`,
						value === "none"
							? null
							: { normal: vector(value), model: bed?.model ?? [0, 0, 1], within_deg: bed?.within_deg ?? null },
					)
				}
			/>
			{bed && (
				<>
					<Select
						label="square to it, of the figure"
						value={named(bed.model, MODEL_WAYS)}
						options={MODEL_WAYS}
						onSet={(value) => setBed("which way the figure lies to the bed", { ...bed, model: vector(value) })}
					/>
					<NumberField
						label="within"
						value={bed.within_deg}
						unit="°"
						least={0}
						most={90}
						empty="as near as fits"
						onSet={(within_deg) =>
							session.change(`within ${within_deg}° of the bed`, (c) =>
								withStone(c, { naturalBed: { ...bed, within_deg } }),
							)
						}
					/>
					{nature?.bed && (
						<p class="reason" data-answer="bed">
							It lies {angleText(degreesFromCosine(nature.bed.cosine))} from that in this placement.
							{wish && bed.within_deg === null && ` ${wishWords(wish)}`}
						</p>
					)}
				</>
			)}
			<Flaws />
		</Card>
	);
}

/** How near to the bed it can lie and still fit. */
function wishWords({ degrees, proved }: LeastAngle): string {
	if (degrees === 0) return "As wished, and it fits.";
	const nearer = `half a degree nearer ${proved ? "nothing fits, proved" : "no placement was found; that is no proof"}`;
	return `The least at which it fits is ${degrees}°; ${nearer}.`;
}

function Flaws() {
	const session = useSession();
	const unit = session.units.value;
	const { flaws, keepSound, soundWithin_mm } = (session.commission.value as Commission).stone;
	const answers = session.answers.value;
	const put = (words: string, next: readonly Flaw[], key = ""): string | null =>
		session.change(words, (c) => withStone(c, { flaws: [...next] }), { key });
	const changed = (i: number, one: Partial<Flaw>): Flaw[] =>
		flaws.map((old, k) => (k === i ? { ...old, ...one } : old));
	const add = (): void => {
		const [x, y, z] = answers?.stone?.block ?? [300, 300, 300];
		const half = z / 2;
		put("a flaw", [
			...flaws,
			{
				name: `vein ${flaws.length + 1}`,
				thickness_mm: 2,
				through_mm: [
					[0, 0, half],
					[x, 0, half],
					[0, y, half],
				],
			},
		]);
	};
	return (
		<>
			{flaws.map((flaw, i) => {
				const found = answers?.nature?.flaws[i];
				return (
					<div class="entry" key={i}>
						<header>
							<h4>{flaw.name}</h4>
							<button
								type="button"
								class="word"
								aria-label={`take out ${flaw.name}`}
								onClick={() =>
									put(
										`take out ${flaw.name}`,
										flaws.filter((_, k) => k !== i),
									)
								}
							>
								take out
							</button>
						</header>
						<TextField
							label="name"
							most={60}
							value={flaw.name}
							onSet={(name) => put(`flaw: ${name}`, changed(i, { name }))}
						/>
						<LengthField
							label="thickness"
							mm={flaw.thickness_mm}
							most={1000}
							onSet={(thickness_mm) =>
								put(`${flaw.name} ${lengthText(thickness_mm, unit)} thick`, changed(i, { thickness_mm }))
							}
						/>
						{flaw.through_mm.map((place, k) => (
							<PlaceFields
								key={`${i} ${"abc"[k]}`}
								label={`seen at ${k + 1}`}
								place={place}
								onSet={(moved) =>
									put(
										`${flaw.name}, place ${k + 1}`,
										changed(i, {
											through_mm: flaw.through_mm.map((old, j) => (j === k ? moved : old)) as Flaw["through_mm"],
										}),
										`flaw ${i} ${k}`,
									)
								}
							/>
						))}
						{found && <FlawWords index={i} />}
					</div>
				);
			})}
			<div class="acts">
				<button type="button" class="act" onClick={add}>
					Add a flaw
				</button>
				<button type="button" class="act" onClick={pickSound}>
					Pick a place to keep sound
				</button>
			</div>
			{keepSound.length > 0 && (
				<>
					<LengthField
						label="flaws keep away by"
						mm={soundWithin_mm}
						standard={10}
						most={1000}
						onSet={(mm) =>
							session.change(`flaws keep ${sizeText(mm, unit)} away`, (c) => withStone(c, { soundWithin_mm: mm }))
						}
					/>
					<p class="reason">
						{keepSound.length} {keepSound.length === 1 ? "place is" : "places are"} to be kept sound.{" "}
						<button
							type="button"
							class="word"
							onClick={() => session.change("no place to keep sound", (c) => withStone(c, { keepSound: [] }))}
						>
							take them out
						</button>
					</p>
					<KeptWords />
				</>
			)}
		</>
	);
}

function FlawWords({ index }: { index: number }) {
	const session = useSession();
	const unit = session.units.value;
	const found = session.answers.value?.nature?.flaws[index];
	if (!found) return null;
	const { parts, area, sound } = found;
	const thin = parts.filter((part) => part.thin);
	const crossing =
		parts.length === 0
			? "It passes the figure by."
			: area === null
				? `It crosses the figure in ${parts.length === 1 ? "one part" : `${parts.length} parts`}.`
				: `It crosses ${(area / 100).toFixed(0)} cm² of the figure, in ${parts.length === 1 ? "one part" : `${parts.length} parts`}.`;
	return (
		<>
			<p class="reason" data-answer="flaw">
				{crossing}
				{sound.length > 0 && ` Nearest place to be kept sound: ${lengthText(Math.min(...sound), unit)} off.`}
			</p>
			{thin.map((part) => (
				<p class="trouble" key={part.middle.join(" ")}>
					It passes a thin part, {part.thinnest === null ? "" : `${lengthText(part.thinnest, unit, 0)} at the least, `}
					{part.smallest === null
						? ""
						: `smallest section near it ${Math.max(0.1, part.smallest / 100).toFixed(1)} cm²`}
					: it may break there.
				</p>
			))}
		</>
	);
}

/** What keeping clear of the flaws did to the placement. */
function KeptWords() {
	const session = useSession();
	const unit = session.units.value;
	const kept = session.answers.value?.stone?.kept;
	const within = session.commission.value?.stone.soundWithin_mm ?? 0;
	if (!kept) return null;
	if (kept.moved)
		return (
			<p class="answer" data-answer="kept">
				Moved: every flaw keeps {lengthText(kept.nearestThen ?? 0, unit)} away. Where most is to spare,{" "}
				{lengthText(kept.spare, unit)}, a flaw comes within {lengthText(Math.max(0, kept.nearest), unit)}; found by
				search.
			</p>
		);
	return kept.nearest >= within ? (
		<p class="reason" data-answer="kept">
			Every flaw keeps {lengthText(kept.nearest, unit)} away as it lies.
		</p>
	) : (
		<p class="trouble" data-answer="kept">
			A flaw comes within {lengthText(Math.max(0, kept.nearest), unit)}; no placement was found that keeps clear. That
			is a search, no proof.
		</p>
	);
}
