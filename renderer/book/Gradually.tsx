/** Cards one after another, a turn of the event loop each, so that a page of many does not hold the window up. */

import { type ComponentChildren, toChildArray } from "preact";
import { useEffect, useState } from "preact/hooks";

export function Gradually({ children }: { children: ComponentChildren }) {
	const all = toChildArray(children);
	const [shown, setShown] = useState(1);
	useEffect(() => {
		if (shown >= all.length) return;
		const turn = setTimeout(() => setShown(shown + 1), 0);
		return () => clearTimeout(turn);
	}, [shown, all.length]);
	return (
		<>
			{all.slice(0, shown)}
			{shown < all.length && <i hidden data-more />}
		</>
	);
}
