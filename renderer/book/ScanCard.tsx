/** The scan: file, unit, mirroring, and what is wrong with it, each finding with its places on the banker. */

import type { Commission, Unit } from "../../core/plan/commission.ts";
import { UNITS } from "../../core/scan/unit.ts";
import { type LengthUnit, lengthText } from "../../core/text/format.ts";
import { refusalText } from "../../core/text/refusals.ts";
import { Select, Tick } from "../fields/Choice.tsx";
import { useSession } from "../state/context.ts";
import { mirroredOver } from "../state/mirror.ts";
import { setTrouble } from "../state/ui.ts";
import { countText, healthFindings } from "../words/health.ts";
import { Card, Figures } from "./Card.tsx";
import { OpenFile } from "./OpenFile.tsx";
import { Verdict } from "./SoundVerdict.tsx";
import { Steps } from "./Steps.tsx";
import { readIn } from "./UnitQuestion.tsx";

export function ScanCard() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	const scan = session.scan.value;
	if (!scan) return null;
	const sure = scan.unit.unit;
	const chosen = commission.scan.unit ?? sure;
	return (
		<Card title="Scan" place="scan">
			<Figures
				rows={[
					["file", scan.name],
					["kind", scan.format],
					["triangles", countText(scan.health.triangles)],
				]}
			/>
			<Select
				label="unit of the file"
				value={chosen}
				standard={sure ?? undefined}
				options={UNITS.map((value) => ({ value, words: unitWords(value, scan.unit.candidates, session.units.value) }))}
				onSet={(unit: Unit) => setTrouble("scan", readIn(session, unit, sure))}
			/>
			{sure !== null && commission.scan.unit === null && <p class="reason">{refusalText(scan.unit.reason)}</p>}
			<Tick
				label="mirrored"
				sentence="Left for right; every page of the sheets then says so. What you picked is mirrored with it."
				value={commission.scan.mirrored}
				standard={false}
				onSet={(mirrored) =>
					setTrouble(
						"scan",
						session.change(mirrored ? "mirror the model" : "take the mirroring back", (c) => mirroredOver(c, mirrored)),
					)
				}
			/>
			<Health />
			<div class="acts">
				<OpenFile words="Open another scan" />
				<button type="button" class="act" onClick={() => session.beginTwin()}>
					Begin the mirrored one of a pair
				</button>
			</div>
		</Card>
	);
}

const unitWords = (unit: Unit, candidates: readonly { unit: Unit; largestMm: number }[], units: LengthUnit): string => {
	const candidate = candidates.find((one) => one.unit === unit);
	return candidate ? `${unit}, ${lengthText(candidate.largestMm, units, 0)} at most` : unit;
};

/** Of the model as it stands, mended; of the file, as long as nothing stands. */
function Health() {
	const session = useSession();
	const scan = session.scan.value;
	if (!scan) return null;
	const standing = session.standing.value;
	const flipped = standing?.findings.find(({ kind }) => kind === "flipped")?.count;
	const findings = standing
		? healthFindings(standing.model.health, standing.model.turnedOver, flipped ?? 0)
		: healthFindings(scan.health, false);
	const placesOf = (what: string): number | undefined =>
		what === "shells" ? standing?.model.shells.count : standing?.findings.find(({ kind }) => kind === what)?.placeCount;
	const waits =
		session.answers.value?.waits.filter(({ page, issue }) => page === "model" && !issue.code.startsWith("unit.")) ?? [];
	const mended = (standing?.model.mended.length ?? 0) > 0;
	return (
		<>
			<Verdict />
			<p class="reason">{mended ? "As it stands, mended:" : "As it was scanned:"}</p>
			<ul class="findings">
				{findings.map(({ what, words, grave }) => (
					<li class={grave ? "trouble" : "reason"} key={what ?? words} data-finding={what}>
						{words} {what !== null && <Steps what={what} name={words.split(/[:.]/)[0]} total={placesOf(what)} />}
					</li>
				))}
				{scan.notes.map((note) => (
					<li class="reason" key={note.code}>
						{refusalText(note)}
					</li>
				))}
				{waits.map(({ issue }) => (
					<li class="trouble" key={issue.code}>
						{refusalText(issue)}
					</li>
				))}
			</ul>
		</>
	);
}
