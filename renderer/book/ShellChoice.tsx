/** Which of a scan's pieces stay: all, the largest, or those that are ticked. */

import type { Commission } from "../../core/plan/commission.ts";
import type { ListedShell } from "../../core/scan/shellList.ts";
import { lengthText } from "../../core/text/format.ts";
import { Choices, type Option } from "../fields/Choice.tsx";
import { useSession } from "../state/context.ts";
import { stepping } from "../state/ui.ts";
import { countText } from "../words/health.ts";

type Mend = Commission["scan"]["mend"];
type Which = "all" | "largest" | "chosen";

const OPTIONS: readonly Option<Which>[] = [
	{ value: "all", words: "all pieces stay" },
	{
		value: "largest",
		words: "the largest alone",
		sentence: "Crumbs and whatever stood beside the figure are left out.",
	},
	{ value: "chosen", words: "those that are ticked" },
];

const whichOf = (mend: Mend): Which => (mend.keepShells ? "chosen" : mend.keepLargestShell ? "largest" : "all");

export function ShellChoice({ change }: { change(words: string, part: Partial<Mend>): string | null }) {
	const session = useSession();
	const { mend } = (session.commission.value as Commission).scan;
	const list = session.standing.value?.model.shells;
	const which = whichOf(mend);
	if (which === "all" && (!list || list.count < 2)) return null;
	const kept = mend.keepShells ?? [];
	const choose = (to: Which): string | null => {
		if (to === "all") return change("keep all pieces", { keepLargestShell: false, keepShells: null });
		if (to === "largest") return change("keep the largest piece", { keepLargestShell: true, keepShells: null });
		return change("choose the pieces that stay", {
			keepLargestShell: false,
			keepShells: [list?.shells[0]?.number ?? 0],
		});
	};
	const tick = ({ number }: ListedShell, on: boolean): void => {
		const next = [...kept.filter((n) => n !== number), ...(on ? [number] : [])].sort((a, b) => a - b);
		if (next.length > 0) change(`${on ? "keep" : "leave out"} piece ${number + 1}`, { keepShells: next });
	};
	return (
		<>
			<Choices label="which pieces stay" value={which} standard="all" options={OPTIONS} onSet={choose} />
			{which === "chosen" && list && (
				<table class="list pieces">
					<thead>
						<tr>
							<th class="words">stays</th>
							<th>triangles</th>
							<th>across</th>
							<th class="words" />
						</tr>
					</thead>
					<tbody>
						{list.shells.map((shell, i) => (
							<tr key={shell.number}>
								<td class="words">
									<label>
										<input
											type="checkbox"
											checked={kept.includes(shell.number)}
											// One at least stays.
											disabled={kept.length === 1 && kept[0] === shell.number}
											onChange={(event) => tick(shell, event.currentTarget.checked)}
										/>{" "}
										piece {shell.number + 1}
									</label>
								</td>
								<td>{countText(shell.triangles)}</td>
								<td>{lengthText(across(shell), session.units.value)}</td>
								<td class="words">
									<button
										type="button"
										class="word"
										aria-label={`show piece ${shell.number + 1} on the banker`}
										onClick={() => {
											stepping.value = { what: "shells", at: i };
										}}
									>
										show
									</button>
								</td>
							</tr>
						))}
					</tbody>
				</table>
			)}
			{which === "chosen" && list && list.count > list.shells.length && (
				<p class="reason">
					The largest {countText(list.shells.length)} of {countText(list.count)} pieces are listed.
				</p>
			)}
		</>
	);
}

const across = ({ min, max }: ListedShell): number => Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
