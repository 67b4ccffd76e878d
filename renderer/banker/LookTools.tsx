/** Ways of looking into the model: cut open by a plane, measured by a rule. */

import { useSession } from "../state/context.ts";
import { layRule, rulePlaces } from "../state/rule.ts";
import { type CutOpen, cutOpen, picking, ruleLaid } from "../state/ui.ts";

const WAYS: readonly { readonly axis: CutOpen["axis"]; readonly words: string }[] = [
	{ axis: 0, words: "left to right" },
	{ axis: 1, words: "front to back" },
	{ axis: 2, words: "foot to top" },
];
const MIDDLE: CutOpen = { axis: 1, share: 0.5, far: false };

export function LookTools() {
	const session = useSession();
	const open = cutOpen.value;
	const measuring = picking.value?.kind === "rule" || rulePlaces(session).length > 0;
	return (
		<>
			<button
				type="button"
				class="act"
				aria-pressed={measuring}
				onClick={() => {
					if (!measuring) return layRule();
					ruleLaid.value = null;
					if (picking.value?.kind === "rule") picking.value = null;
				}}
			>
				rule
			</button>
			<button
				type="button"
				class="act"
				aria-pressed={open !== null}
				onClick={() => {
					cutOpen.value = open === null ? MIDDLE : null;
				}}
			>
				cut open
			</button>
			{open && <Opened open={open} />}
		</>
	);
}

function Opened({ open }: { open: CutOpen }) {
	return (
		<span class="opened">
			<label>
				from
				<select
					value={open.axis}
					onChange={(event) => {
						cutOpen.value = { ...open, axis: Number(event.currentTarget.value) as CutOpen["axis"] };
					}}
				>
					{WAYS.map(({ axis, words }) => (
						<option key={axis} value={axis}>
							{words}
						</option>
					))}
				</select>
			</label>
			<input
				type="range"
				aria-label="where it is cut open"
				min={0}
				max={1000}
				value={Math.round(open.share * 1000)}
				onInput={(event) => {
					cutOpen.value = { ...open, share: Number(event.currentTarget.value) / 1000 };
				}}
			/>
			<button
				type="button"
				class="act"
				onClick={() => {
					cutOpen.value = { ...open, far: !open.far };
				}}
			>
				other part
			</button>
		</span>
	);
}
