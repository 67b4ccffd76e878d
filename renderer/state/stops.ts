/** Places of the scan that the carver steps through on the banker: findings, pieces, thin parts. Model frame, mm. */

import type { ThinPart } from "../../core/drilling/thinParts.ts";
import type { FindingPlace } from "../../core/scan/findings.ts";
import type { ListedShell } from "../../core/scan/shellList.ts";
import { lengthText } from "../../core/text/format.ts";
import type { Vec3 } from "../../core/vector.ts";
import { countText, manyText } from "../words/health.ts";
import type { Session } from "./session.ts";
import { page, type SteppedThrough, stepping } from "./ui.ts";

/** One place to look at. */
export interface Stop {
	readonly centre: Vec3;
	readonly radius: number;
	/** From where it is best seen: outward; (0, 0, 0) where nothing is known. */
	readonly normal: Vec3;
	/** Ends of lines, x, y, z of both. */
	readonly lines: Float32Array;
	readonly words: string;
}

const NO_LINES = new Float32Array(0);

export function stopsOf(session: Session, what: SteppedThrough): readonly Stop[] {
	const unit = session.units.value;
	if (what === "thin")
		return (session.thickness.value?.parts ?? []).map((part) => ({
			centre: part.at,
			radius: part.length / 2,
			normal: part.normal,
			lines: NO_LINES,
			words: thinWords(part, (mm) => lengthText(mm, unit)),
		}));
	const standing = session.standing.value;
	if (!standing) return [];
	if (what === "shells") return standing.model.shells.shells.map((shell) => shellStop(shell));
	const finding = standing.findings.find(({ kind }) => kind === what);
	return (finding?.places ?? []).map((place) => ({
		centre: place.centre,
		radius: place.radius,
		normal: place.normal,
		lines: place.lines,
		words: placeWords(what, place, (mm) => lengthText(mm, unit)),
	}));
}

/** The place that is looked at now; null on every page but the first. */
export function stopShown(session: Session): Stop | null {
	const now = stepping.value;
	if (!now || page.value !== "model") return null;
	return stopsOf(session, now.what)[now.at] ?? null;
}

/** Goes `by` places on, round and round. */
export function goOn(session: Session, what: SteppedThrough, by: number): void {
	const count = stopsOf(session, what).length;
	if (count === 0) return;
	const from = stepping.value?.what === what ? stepping.value.at : by > 0 ? -1 : count;
	stepping.value = { what, at: (((from + by) % count) + count) % count };
}

const EDGES_OR_TRIANGLES = {
	flipped: ["triangle that faces the wrong way", "triangles that face the wrong way"],
	crowded: ["edge of more than two triangles", "edges of more than two triangles"],
	open: ["open edge", "open edges"],
	doubled: ["doubled triangle", "doubled triangles"],
	arealess: ["triangle without area", "triangles without area"],
} as const;

function placeWords(
	what: Exclude<SteppedThrough, "shells" | "thin">,
	{ count, length, radius }: FindingPlace,
	say: (mm: number) => string,
): string {
	const [one, more] = EDGES_OR_TRIANGLES[what];
	const size = length === null ? `${say(2 * radius)} across` : `a rim of ${say(length)}`;
	return `${manyText(count, one, more)}, ${size}`;
}

function thinWords(part: ThinPart, say: (mm: number) => string): string {
	const slender = part.kind === "slender" ? `, ${say(part.length)} long and ${say(part.thickest)} thick at most` : "";
	return `${say(part.thinnest)} thick where it is thinnest${slender}`;
}

/** A box around a piece, drawn as its twelve edges. */
function shellStop({ number, triangles, min, max }: ListedShell): Stop {
	const corner = (i: number): Vec3 => [i & 1 ? max[0] : min[0], i & 2 ? max[1] : min[1], i & 4 ? max[2] : min[2]];
	const edges: number[] = [];
	for (let i = 0; i < 8; i++)
		for (const bit of [1, 2, 4]) if ((i & bit) === 0) edges.push(...corner(i), ...corner(i | bit));
	const [dx, dy, dz] = [max[0] - min[0], max[1] - min[1], max[2] - min[2]];
	return {
		centre: [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2, (min[2] + max[2]) / 2],
		radius: Math.hypot(dx, dy, dz) / 2,
		normal: [0, 0, 0],
		lines: Float32Array.from(edges),
		words: `piece ${number + 1}, ${countText(triangles)} triangles`,
	};
}
