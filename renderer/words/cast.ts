/** What the cast check says. */

import type { CastCheck } from "../../core/model/castCheck.ts";
import { type LengthUnit, lengthText, shareText } from "../../core/text/format.ts";

/** "0.20 % larger" */
export const driftText = (scale: number): string =>
	`${shareText(Math.abs(scale - 1), 2)} ${scale < 1 ? "smaller" : "larger"}`;

/** The answer: whether the cast has the scan's size, and how surely. */
export function castAnswer(check: CastCheck, unit: LengthUnit): string {
	const longest = Math.max(...check.pairs.map((pair) => pair.length));
	const off = lengthText(Math.abs(check.scale - 1) * longest, unit, 2);
	const times = check.sigmas.toFixed(1);
	const error = `${times} times its standard error`;
	if (Math.abs(check.scale - 1) < 5e-5) return "Cast and scan agree in size.";
	if (check.drift === "none")
		return `Cast and scan agree: ${driftText(check.scale)} is ${error}, no more than reading explains.`;
	const how = check.drift === "sure" ? "The cast is" : "The cast is likely";
	const more = check.drift === "sure" || check.misread !== null ? "" : " Another long pair would make it sure.";
	return `${how} ${driftText(check.scale)} than the scan, ${off} on ${lengthText(longest, unit, 0)}: ${error}.${more}`;
}

/** The pair that does not fit the others, or null. */
export function misreadText(check: CastCheck, unit: LengthUnit): string | null {
	if (check.misread === null) return null;
	const residual = lengthText(Math.abs(check.pairs[check.misread].residual), unit, 2);
	if (check.pairs.length === 2)
		return `The two pairs disagree by more than reading explains (${residual}). Read both again.`;
	return `Pair ${check.misread + 1} is off by ${residual}, more than reading explains. Read it again, or remove it.`;
}
