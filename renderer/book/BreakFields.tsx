/** Corners and edges broken off a block, and free breaks by three places. */

import { useSignal } from "@preact/signals";
import type { Commission, FaceName } from "../../core/plan/commission.ts";
import { sizeText } from "../../core/text/format.ts";
import { Select } from "../fields/Choice.tsx";
import { LengthField } from "../fields/LengthField.tsx";
import { useSession } from "../state/context.ts";
import { PlaceFields } from "./PlaceFields.tsx";
import { withStone } from "./withStone.ts";

type Break = Commission["stone"]["breaks"][number];

const ACROSS: readonly FaceName[] = ["left", "right"];
const DEEP: readonly FaceName[] = ["front", "back"];
const HIGH: readonly FaceName[] = ["bed", "top"];

const CORNERS: readonly (readonly FaceName[])[] = ACROSS.flatMap((a) =>
	DEEP.flatMap((d) => HIGH.map((h) => [a, d, h])),
);
const EDGES: readonly (readonly FaceName[])[] = [
	...ACROSS.flatMap((a) => DEEP.map((d) => [a, d])),
	...ACROSS.flatMap((a) => HIGH.map((h) => [a, h])),
	...DEEP.flatMap((d) => HIGH.map((h) => [d, h])),
];

const wordsOf = (faces: readonly FaceName[]): string => `${faces.length === 3 ? "corner" : "edge"} ${faces.join(", ")}`;
const KINDS = [
	...CORNERS.map((faces) => ({ value: faces.join(" "), words: wordsOf(faces) })),
	...EDGES.map((faces) => ({ value: faces.join(" "), words: wordsOf(faces) })),
	{ value: "plane", words: "a break through three places" },
];

/** What is entered first, mm: the hand's breadth that is easily knocked off. */
const FIRST_REACH = 40;

export function BreakFields() {
	const session = useSession();
	const unit = session.units.value;
	const next = useSignal(KINDS[7].value);
	const { breaks, block_mm } = (session.commission.value as Commission).stone;
	const extent = session.answers.value?.stone?.block ?? block_mm;
	const put = (words: string, changed: readonly Break[], key = ""): string | null =>
		session.change(words, (c) => withStone(c, { breaks: [...changed] }), { key });
	const replaced = (index: number, one: Break): Break[] => breaks.map((old, i) => (i === index ? one : old));
	const add = (): void => {
		if (next.value === "plane") {
			const [x, y, z] = extent ?? [300, 300, 300];
			put("a break through three places", [
				...breaks,
				{
					kind: "plane",
					through_mm: [
						[0.8 * x, y, z],
						[x, 0.8 * y, z],
						[x, y, 0.8 * z],
					],
				},
			]);
			return;
		}
		const faces = next.value.split(" ") as FaceName[];
		put(`${wordsOf(faces)} broken off`, [...breaks, { kind: "off", faces, reach_mm: faces.map(() => FIRST_REACH) }]);
	};
	return (
		<fieldset class="group">
			<legend>broken off</legend>
			{breaks.map((one, i) => (
				<div class="entry" key={i}>
					<header>
						<h4>{one.kind === "off" ? wordsOf(one.faces) : "through three places"}</h4>
						<button
							type="button"
							class="word"
							onClick={() =>
								put(
									`break ${i + 1} is none`,
									breaks.filter((_, k) => k !== i),
								)
							}
						>
							take out
						</button>
					</header>
					{one.kind === "off"
						? one.faces.map((face, k) => (
								<LengthField
									key={face}
									label={`in from ${face}`}
									mm={one.reach_mm[k]}
									least={0.1}
									onSet={(mm) =>
										put(
											`break ${i + 1}: ${sizeText(mm, unit)} in from ${face}`,
											replaced(i, { ...one, reach_mm: one.reach_mm.map((old, j) => (j === k ? mm : old)) }),
											`break ${i} ${k}`,
										)
									}
								/>
							))
						: one.through_mm.map((place, k) => (
								<PlaceFields
									key={`${i} ${"abc"[k]}`}
									label={`place ${k + 1}`}
									place={place}
									onSet={(moved) =>
										put(
											`place ${k + 1} of break ${i + 1}`,
											replaced(i, {
												...one,
												through_mm: one.through_mm.map((old, j) => (j === k ? moved : old)) as typeof one.through_mm,
											}),
											`break ${i} ${k}`,
										)
									}
								/>
							))}
				</div>
			))}
			<Select
				label="what is broken off"
				value={next.value}
				options={KINDS}
				onSet={(value) => {
					next.value = value;
				}}
			/>
			<div class="acts">
				<button type="button" class="act" onClick={add}>
					Add the break
				</button>
			</div>
		</fieldset>
	);
}
