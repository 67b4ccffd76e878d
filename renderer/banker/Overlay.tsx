/** What lies over the scene: views, scale bar, and what the banker has to say. */

import { placesPicked } from "../state/cast.ts";
import { useSession } from "../state/context.ts";
import { bridgePlaces } from "../state/cuts.ts";
import { LETTERS } from "../state/datums.ts";
import { AGAIN, arePointsOld, arePointsPutAway } from "../state/outdated.ts";
import { rulePlaces } from "../state/rule.ts";
import type { Session } from "../state/session.ts";
import { planePicked } from "../state/stance.ts";
import { type Picking, page, picking } from "../state/ui.ts";
import { AddView } from "./AddView.tsx";
import type { Banker } from "./banker.ts";
import { VIEWS, type ViewName, viewOf } from "./camera.ts";
import { scaleBar } from "./scaleBar.ts";

const pickedNext = (session: Session, pick: Exclude<Picking, { kind: "gild" }>): string => {
	if (pick.kind === "datum") return `datum ${LETTERS[pick.index]}`;
	if (pick.kind === "point") return "a point";
	if (pick.kind === "sound") return "a place to be kept sound";
	if (pick.kind === "proof") return "a proof mark";
	if (pick.kind === "link") return "a point of the link";
	if (pick.kind === "plane")
		return `place ${planePicked(session).length + 1} of 3 to ${pick.to === "stand" ? "stand it on" : "saw along"}`;
	if (pick.kind === "bridge")
		return bridgePlaces(session).length === 0 ? "one end of the bridge" : "the other end of the bridge";
	if (pick.kind === "rule")
		return rulePlaces(session).length === 0 ? "one end of the rule" : "the other end of the rule";
	return placesPicked(session).length === 0 ? "the first end of the calliper pair" : "the second end";
};

/** What the banker has to say: what is being picked, why a scan was refused, why there is nothing to see. */
export function Words({ failed }: { failed: string | null }) {
	const session = useSession();
	const pick = picking.value;
	const refused = session.openTrouble.value;
	const unitWanted = session.answers.value !== null && session.mesh.value === null && session.working.value === null;
	return (
		<>
			{refused !== null && (
				<p class="banker-word" role="alert">
					{refused}{" "}
					<button
						type="button"
						class="word"
						onClick={() => {
							session.openTrouble.value = null;
						}}
					>
						all right
					</button>
				</p>
			)}
			{(pick?.kind === "gild" || pick?.kind === "brush") && (
				<p class="banker-word" role="status">
					Draw over the model to mark it; beside the model the pointer turns it. Esc leaves off.
				</p>
			)}
			{pick && pick.kind !== "gild" && pick.kind !== "brush" && (
				<p class="banker-word" role="status">
					Pick {pickedNext(session, pick)} on the model. It goes to the local high or low; hold Alt for the very place.
					Esc leaves off.
				</p>
			)}
			{arePointsOld(session) && (page.value === "points" || page.value === "bench") && (
				<p class="banker-word" role="status" data-word="old points">
					{arePointsPutAway(session)
						? "Points of the last answer are put away until the new ones stand."
						: `The points are from before the last change: ${AGAIN}.`}
				</p>
			)}
			{failed !== null && <p class="banker-word">{failed}</p>}
			{failed === null && unitWanted && (
				<p class="banker-word">The model is shown once its unit is known; choose it on page 1.</p>
			)}
		</>
	);
}

export function Views({ banker, posed }: { banker: Banker; posed: number }) {
	void posed;
	const now = viewOf(banker.pose());
	const button = (name: ViewName) => (
		<button type="button" class={name} key={name} aria-pressed={now === name} onClick={() => banker.view(name)}>
			{name}
		</button>
	);
	return (
		<fieldset class="views">
			<legend class="unseen">views</legend>
			<div class="unfolded">
				{VIEWS.map(button)}
				<button type="button" class="whole" onClick={banker.whole}>
					show all
				</button>
				<AddView banker={banker} posed={posed} />
			</div>
		</fieldset>
	);
}

export function Bar({ banker, posed }: { banker: Banker; posed: number }) {
	void posed;
	const bar = scaleBar(banker.mmPerPixel(), 140, useSession().units.value);
	return (
		<div class="scale-bar">
			{bar.words}
			<i style={{ width: `${bar.pixels.toFixed(1)}px` }} />
		</div>
	);
}
