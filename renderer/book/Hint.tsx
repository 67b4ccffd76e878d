/** A hint that is shown until it has been read, and then never again. */

import { hintsRead } from "../state/ui.ts";

export function Hint({ name, words }: { name: string; words: string }) {
	if (hintsRead.value.has(name)) return null;
	return (
		<p class="hint">
			<span>{words}</span>
			<button
				type="button"
				class="word"
				onClick={() => {
					hintsRead.value = new Set([...hintsRead.value, name]);
				}}
			>
				understood
			</button>
		</p>
	);
}
