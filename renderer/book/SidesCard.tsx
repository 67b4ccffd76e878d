/** The block by its sides. */

import type { Commission } from "../../core/plan/commission.ts";
import { sizeText } from "../../core/text/format.ts";
import { LengthField } from "../fields/LengthField.tsx";
import { useSession } from "../state/context.ts";
import { setTrouble } from "../state/ui.ts";
import { withStone } from "./withStone.ts";

const SIDES = ["length", "width", "height"] as const;

export function SidesFields() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	const unit = session.units.value;
	const assumed = session.answers.value?.stone?.assumed === true;
	const shown = commission.stone.block_mm ?? session.answers.value?.stone?.block ?? null;
	return (
		<>
			{SIDES.map((side, i) => (
				<LengthField
					key={side}
					label={side}
					mm={shown ? shown[i] : null}
					least={1}
					digits={unit === "mm" ? 1 : 2}
					onSet={(mm) =>
						session.change(
							`${side} of the block ${sizeText(mm, unit)}`,
							(c) => {
								const block: [number, number, number] = [...(c.stone.block_mm ?? shown ?? [mm, mm, mm])];
								block[i] = mm;
								return withStone(c, { block_mm: block });
							},
							{ key: `block ${side}` },
						)
					}
				/>
			))}
			{commission.stone.block_mm === null ? (
				<p class="reason">
					{assumed
						? "Not given: the smallest sawn block is assumed. Type a side when the stone is there."
						: "Not given: the smallest sawn block will be assumed."}
				</p>
			) : (
				<div class="acts">
					<button
						type="button"
						class="word"
						onClick={() =>
							setTrouble(
								"block",
								session.change("assume the smallest block", (c) => withStone(c, { block_mm: null })),
							)
						}
					>
						no stone yet: assume the smallest
					</button>
				</div>
			)}
		</>
	);
}
