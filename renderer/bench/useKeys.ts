/** The keys of the whole window, for as long as something is shown. */

import { useLayoutEffect } from "preact/hooks";

/**
 * `take` says whether the key was for it; then nobody else acts on it. What hears with `first` hears before all others.
 * Laid on and taken off at once, not after the next paint: a key that comes before it must not meet what has gone.
 */
export function useKeys(take: (event: KeyboardEvent) => boolean, first = false): void {
	useLayoutEffect(() => {
		const keys = (event: KeyboardEvent): void => {
			if (event.ctrlKey || event.metaKey || event.altKey || !take(event)) return;
			event.preventDefault();
			event.stopPropagation();
		};
		window.addEventListener("keydown", keys, { capture: first });
		return () => window.removeEventListener("keydown", keys, { capture: first });
	});
}
