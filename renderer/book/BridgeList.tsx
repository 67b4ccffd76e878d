/** Bridges: stone kept between two places until a round. */

import type { Commission } from "../../core/plan/commission.ts";
import { sizeText } from "../../core/text/format.ts";
import { Select } from "../fields/Choice.tsx";
import { LengthField } from "../fields/LengthField.tsx";
import { useSession } from "../state/context.ts";
import { addBridge, bridgeDraft, bridgePlaces, changeBridge } from "../state/cuts.ts";
import { picking, setTrouble } from "../state/ui.ts";

export function BridgeList() {
	const session = useSession();
	const { bridges, rounds } = session.commission.value as Commission;
	const unit = session.units.value;
	const active = picking.value?.kind === "bridge";
	const whole = bridgePlaces(session).length === 2;
	return (
		<>
			<p class="reason">
				A bridge is stone left between two parts of the figure: no cut and no drill line before its round.
			</p>
			{bridges.map((bridge, i) => (
				<fieldset class="looked" key={`${i} ${bridge.from_mm.join()}`}>
					<legend>bridge {bridge.name}</legend>
					<LengthField
						label="thick"
						mm={2 * bridge.radius_mm}
						standard={30}
						least={2}
						most={1000}
						onSet={(mm) =>
							changeBridge(session, `bridge ${bridge.name} ${sizeText(mm, unit)} thick`, i, { radius_mm: mm / 2 })
						}
					/>
					<Select
						label="stands until"
						value={String(Math.min(bridge.round, rounds.length))}
						options={[
							...rounds.map((round, r) => ({ value: String(r), words: round.name })),
							{ value: String(rounds.length), words: "after all rounds" },
						]}
						onSet={(round) =>
							void changeBridge(session, `bridge ${bridge.name} until another round`, i, { round: Number(round) })
						}
					/>
					<div class="acts">
						<button
							type="button"
							class="word"
							aria-label={`remove bridge ${bridge.name}`}
							onClick={() => void changeBridge(session, `remove bridge ${bridge.name}`, i, null)}
						>
							remove
						</button>
					</div>
				</fieldset>
			))}
			<div class="acts">
				<button
					type="button"
					class="act"
					aria-pressed={active}
					disabled={!session.mesh.value}
					onClick={() => {
						bridgeDraft.value = null;
						picking.value = active ? null : { kind: "bridge" };
					}}
				>
					{active ? "Leave off" : "Pick the ends of a bridge"}
				</button>
				{whole && (
					<button type="button" class="act" onClick={() => setTrouble("cuts", addBridge(session))}>
						Keep a bridge there
					</button>
				)}
			</div>
		</>
	);
}
