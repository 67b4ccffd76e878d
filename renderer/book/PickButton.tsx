/** Begins to pick on the model, and leaves off again. */

import { useSession } from "../state/context.ts";
import { type Picking, picking } from "../state/ui.ts";

export function PickButton({ pick, words, done = "Done picking" }: { pick: Picking; words: string; done?: string }) {
	const active = JSON.stringify(picking.value) === JSON.stringify(pick);
	return (
		<button
			type="button"
			class="act"
			aria-pressed={active}
			disabled={!useSession().mesh.value}
			onClick={() => {
				picking.value = active ? null : pick;
			}}
		>
			{active ? done : words}
		</button>
	);
}
