/** The bench view over the whole window. */

import { useEffect, useMemo, useState } from "preact/hooks";
import { useSession } from "../state/context.ts";
import { windowWork } from "../state/log.ts";
import { benchReadsMarks, benchShown, pointed } from "../state/ui.ts";
import { BenchView } from "./BenchView.tsx";

export function WindowBench() {
	const session = useSession();
	const work = useMemo(() => windowWork(session), [session.plan.value === null]);
	const [before] = useState(() => document.activeElement);
	useEffect(
		() => () => {
			benchReadsMarks.value = false;
			// Once the window behind answers again.
			requestAnimationFrame(() => before instanceof HTMLElement && before.focus());
		},
		[],
	);
	if (!work) return null;
	return (
		<BenchView
			work={work}
			from={pointed.value}
			readsMarks={benchReadsMarks.value}
			onShow={(number) => {
				pointed.value = number;
			}}
		>
			<button
				type="button"
				onClick={() => {
					benchShown.value = false;
				}}
			>
				to the planner
			</button>
		</BenchView>
	);
}
