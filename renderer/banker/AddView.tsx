/** Makes a map of what is looked at: on the page of the sheets, where no side is looked at square on. */

import type { Commission } from "../../core/plan/commission.ts";
import { useSession } from "../state/context.ts";
import { withSheet } from "../state/sheets.ts";
import { page } from "../state/ui.ts";
import type { Banker } from "./banker.ts";
import { axesOf, viewOf } from "./camera.ts";

const MOST_VIEWS = 12;

/** A direction as it is kept: finer than an eye can tell, and the same in every browser. */
const kept = (c: number): number => Math.round(c * 1e4) / 1e4 + 0;

export function AddView({ banker, posed }: { banker: Banker; posed: number }) {
	void posed;
	const session = useSession();
	const plan = session.plan.value;
	const { views } = (session.commission.value as Commission | null)?.sheet ?? { views: [] };
	if (page.value !== "bench" || plan === null || viewOf(banker.pose()) !== null || views.length >= MOST_VIEWS)
		return null;
	const add = (): void => {
		const [x, y, z] = axesOf(banker.pose()).eye;
		const name = `view ${views.length + 1}`;
		session.change(`add ${name} to the maps`, (c) =>
			withSheet(c, { views: [...c.sheet.views, { name, towards: [kept(x), kept(y), kept(z)] }] }),
		);
	};
	return (
		<button type="button" class="whole" onClick={add}>
			add as a map
		</button>
	);
}
