/** Whether the scan may be carved from: one line, and the mending that makes it so. */

import type { Commission } from "../../core/plan/commission.ts";
import { judgeSoundness, type Mending } from "../../core/scan/soundness.ts";
import { lengthText } from "../../core/text/format.ts";
import { mendingWords, soundnessText } from "../../core/text/soundWords.ts";
import { useSession } from "../state/context.ts";

export function Verdict() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	const standing = session.standing.value;
	if (!standing) return null;
	// What stood before the last change would be judged by the mending after it.
	if (session.awaited.model) return <p class="verdict reason">Being judged.</p>;
	const { model, findings } = standing;
	const sound = judgeSoundness({
		health: model.health,
		flipped: findings.find(({ kind }) => kind === "flipped")?.count ?? 0,
		pieces: model.shells.shells.map(({ area }) => area),
		rims: (findings.find(({ kind }) => kind === "open")?.places ?? []).map(({ length }) => length ?? 0),
		area: model.area,
		done: commission.scan.mend,
	});
	const length = (mm: number): string => lengthText(mm, session.units.value, 0);
	const mendIt = (mending: Mending): void =>
		void session.change(mendingWords(mending, length), (c) => ({
			...c,
			scan: { ...c.scan, mend: { ...c.scan.mend, keepShells: null, ...mending } },
		}));
	return (
		<>
			<p class={sound.verdict === "sound" ? "verdict" : "verdict trouble"} data-verdict={sound.verdict}>
				<b>{soundnessText(sound, length)}</b>
			</p>
			{Object.keys(sound.mending).length > 0 && (
				<div class="acts">
					<button type="button" class="act" onClick={() => mendIt(sound.mending)}>
						Mend it so
					</button>
					<span class="reason">The file stays as it is; each can be taken back below.</span>
				</div>
			)}
		</>
	);
}
