/** What colour says on the banker now: the look of every vertex, and the legend that explains it. */

import { SLENDER, THIN_MM } from "../../core/drilling/thinParts.ts";
import { type LengthUnit, lengthText, sizeText, unitWord } from "../../core/text/format.ts";
import type { MapsShown, ThicknessShown } from "../jobs/shown.ts";
import { brushedShown, groundBrush } from "../state/brush.ts";
import { placeOnModel } from "../state/datums.ts";
import { goldBrush } from "../state/gilding.ts";
import { arePointsPutAway } from "../state/outdated.ts";
import type { Session } from "../state/session.ts";
import { stroke } from "../state/stroke.ts";
import { type Colouring, colouring, page, picking } from "../state/ui.ts";
import type { Bends } from "./bendView.ts";
import { gapToFaces } from "./gaps.ts";
import { goldMarked, goldOver } from "./goldLook.ts";
import { plasterLook, scannedLook, usualRange, type VertexLook, valueLook } from "./vertexLook.ts";

export interface LegendWords {
	readonly title: string;
	/** Ends of the colour scale, or null where colour has no scale. */
	readonly ends: readonly [string, string] | null;
	readonly hatched: readonly ("by eye" | "not reached" | "thin" | "no points")[];
	readonly note: string;
}

export interface Colours {
	readonly look: VertexLook | null;
	readonly legend: LegendWords | null;
}

/** How the choice is written in a list, and read back from it. */
export const colouringKey = (c: Colouring): string => (c.kind === "cover" ? `cover ${c.round}` : c.kind);
export function colouringOf(key: string): Colouring {
	const round = /^cover (\d+)$/.exec(key);
	if (round) return { kind: "cover", round: Number(round[1]) };
	return { kind: key as Exclude<Colouring["kind"], "cover"> };
}

/** The choices that have something to show. */
export function colouringChoices(session: Session): readonly { readonly key: string; readonly words: string }[] {
	const maps = session.maps.value;
	const rounds = session.plan.value?.rounds ?? [];
	return [
		{ key: "plaster", words: "plaster" },
		...(session.mesh.value?.colours ? [{ key: "scanned", words: "as scanned" }] : []),
		...(session.thickness.value ? [{ key: "thickness", words: "how thick it is" }] : []),
		...(maps?.k1
			? [
					{ key: "curvature", words: "how it bulges, the most" },
					{ key: "curvature least", words: "how it bulges, the least" },
				]
			: []),
		...(maps?.covers ?? []).flatMap((_, i) =>
			rounds[i]?.kind === "net" ? [{ key: `cover ${i}`, words: `cover, ${rounds[i].name}` }] : [],
		),
		...(maps?.covers.length ? [{ key: "ground", words: "by eye, undercut" }] : []),
		...(session.answers.value?.stone ? [{ key: "gap", words: "stone around it" }] : []),
		...(maps?.seatError ? [{ key: "seat error", words: "seat error" }] : []),
	];
}

/** What colour says, with the areas to be gilded over it while the last page is open. */
export function coloursShown(session: Session): Colours {
	const shown = coloursUnder(session);
	const positions = session.mesh.value?.positions;
	if (page.value !== "finish" || !shown.look || !positions) return shown;
	const marked = goldMarked(
		positions,
		session.maps.value?.gilded ?? null,
		picking.value?.kind === "gild" ? stroke.value : [],
		goldBrush.value,
	);
	if (!marked) return shown;
	return {
		look: goldOver(shown.look, marked),
		legend: shown.legend ?? {
			title: "Gold: to be gilded",
			ends: null,
			hatched: [],
			note: "Areas on the surface itself; their edges as they were brushed.",
		},
	};
}

/** Without what the rounds say of the surface, where that is no longer the surface, or lies elsewhere in the stone. */
function mapsShown(session: Session): Readonly<MapsShown> | null {
	const maps = session.maps.value;
	return maps && arePointsPutAway(session) ? { ...maps, covers: [], seatError: null } : maps;
}

function coloursUnder(session: Session): Colours {
	const maps = mapsShown(session);
	const mesh = session.mesh.value;
	const plan = session.plan.value;
	const unit: LengthUnit = session.units.value;
	const smallestForm = session.commission.value?.model.smallestForm_mm ?? 3;
	if (!mesh) return { look: null, legend: null };
	if (colouring.value.kind === "scanned" && mesh.colours) return { look: scannedLook(mesh.colours), legend: null };
	if (colouring.value.kind === "thickness" && session.thickness.value)
		return thicknessColours(session.thickness.value, unit);
	if (!maps) return { look: null, legend: null };
	const vertices = mesh.positions.length / 3;
	const fits = (array: ArrayLike<unknown> | null | undefined): boolean => array?.length === vertices;
	const plaster = (): Colours => {
		const look = maps.k1 && maps.k2 && fits(maps.k1) ? plasterLook(maps.k1, maps.k2, smallestForm) : null;
		const ground = maps.covers.at(-1)?.ground;
		if (!look || page.value !== "points" || !fits(ground) || !ground?.includes(2)) return { look, legend: null };
		// With the points in view, what no drill reaches is never out of sight.
		return {
			look: { ...look, hatch: (v) => (ground[v] === 2 ? 2 : 0) },
			legend: {
				title: "Undercuts",
				ends: null,
				hatched: ["not reached"],
				note: "After the last round. Point at one to see what is in its way.",
			},
		};
	};
	if (picking.value?.kind === "brush") return brushColours(session);
	const chosen = colouring.value;
	switch (chosen.kind) {
		case "scanned":
		case "thickness":
		case "plaster":
			return plaster();
		case "curvature":
		case "curvature least": {
			const k = chosen.kind === "curvature" ? maps.k1 : maps.k2;
			if (!k || !fits(k)) return plaster();
			const most = 1 / smallestForm;
			const [low, high] = usualRange((v) => k[v], vertices, 0.02);
			const end = Math.min(most, Math.max(Math.abs(low), high));
			return {
				look: valueLook(k, -end, end, null, vertices),
				legend: {
					title: chosen.kind === "curvature" ? "How it bulges, the most" : "How it bulges, the least",
					ends: [`hollow, radius ${lengthText(1 / end, unit, 0)}`, `bulging, ${lengthText(1 / end, unit, 0)}`],
					hatched: [],
					note: "Read at the smallest form; in the middle it is flat. Long strokes lie along the greatest bulge, short ones along the least.",
				},
			};
		}
		case "cover": {
			const map = maps.covers[chosen.round];
			const round = plan?.rounds[chosen.round];
			if (!map || !round || !fits(map.cover)) return plaster();
			return {
				look: valueLook(map.cover, 0, round.join_mm, map.ground, vertices),
				legend: {
					title: `Cover after the ${round.name}`,
					ends: [`0 ${unitWord(unit)}`, `${lengthText(round.join_mm, unit)} and over`],
					hatched: ["by eye", "not reached"],
					note: "Stone that a flat join from point to point leaves over the finished surface.",
				},
			};
		}
		case "ground": {
			const map = maps.covers.at(-1);
			if (!map || !fits(map.cover)) return plaster();
			return {
				look: valueLook(null, 0, 1, map.ground, vertices),
				legend: {
					title: "Left to the eye",
					ends: null,
					hatched: ["by eye", "not reached"],
					note: "After the last round.",
				},
			};
		}
		case "gap": {
			const stone = session.answers.value?.stone;
			if (!stone) return plaster();
			const gap = gapToFaces(mesh.positions, stone.fit.placement, stone.stone.faces);
			const [least, most] = usualRange(gap, vertices, 0);
			return {
				look: valueLook(gap, least, most, null, vertices),
				legend: {
					title: "Stone around the figure",
					ends: [lengthText(least, unit), lengthText(most, unit, 0)],
					hatched: [],
					note: "From the surface to the nearest face of the stone, square to that face.",
				},
			};
		}
		case "seat error": {
			if (!maps.seatError || !fits(maps.seatError)) return plaster();
			const { seatError } = maps;
			const [low, high] = usualRange((v) => seatError[v], vertices, 0);
			return {
				look: valueLook(seatError, low, high, null, vertices),
				legend: {
					title: "Error from the seats",
					ends: [lengthText(low, unit, 2), lengthText(high, unit, 2)],
					hatched: [],
					note: "How far a target is off, root mean square, when every seat is off as given.",
				},
			};
		}
	}
}

function brushColours(session: Session): Colours {
	const mesh = session.mesh.value;
	const { areas } = session.commission.value ?? {};
	if (!mesh || !areas) return { look: null, legend: null };
	const { factor, radius } = groundBrush.value;
	const under = { factor, dabs: stroke.value.map((place) => ({ ...placeOnModel(place), radius_mm: radius })) };
	const factorAt = brushedShown(mesh.positions, mesh.normals, [...areas, under]);
	return {
		look: { ...valueLook(factorAt, 0, 2, null, mesh.positions.length / 3), hatch: (v) => (factorAt(v) === 0 ? 2 : 0) },
		legend: {
			title: "Spacing as brushed",
			ends: ["closer", "wider"],
			hatched: ["no points"],
			note: "Draw over the model; drag beside it to turn it.",
		},
	};
}

/** The dark end of the colours is thin, whatever the figure: what is over this is stout anyhow. */
const THICK_SHARE = 0.1;

function thicknessColours({ thickness, marks }: ThicknessShown, unit: LengthUnit): Colours {
	const [, most] = usualRange((v) => thickness[v], thickness.length, THICK_SHARE);
	return {
		look: { ...valueLook(thickness, 0, most, null, thickness.length), hatch: (v) => (marks[v] > 0 ? 1 : 0) },
		legend: {
			title: "Stone behind the surface",
			ends: [`0 ${unitWord(unit)}`, `${lengthText(most, unit, 0)} and over`],
			hatched: ["thin"],
			note: `Hatched: under ${sizeText(THIN_MM, unit, 0)}, or more than ${SLENDER} times as long as thick. No hammer action there.`,
		},
	};
}

/** Strokes are this share of the figure's extent. */
const STROKE_SHARE = 1 / 110;

/** The strokes of the curvature's picture; null when another is shown. */
export function bendsShown(session: Session): Bends | null {
	const { kind } = colouring.value;
	const mesh = session.mesh.value;
	const maps = session.maps.value;
	if ((kind !== "curvature" && kind !== "curvature least") || picking.value?.kind === "brush") return null;
	if (!mesh || !maps?.k1 || !maps.k2 || !maps.direction1 || maps.direction1.length !== mesh.positions.length)
		return null;
	const size = session.answers.value?.model?.size ?? [300, 300, 300];
	const { k1, k2, direction1 } = maps;
	return {
		positions: mesh.positions,
		normals: mesh.normals,
		k1,
		k2,
		direction1,
		half: STROKE_SHARE * Math.max(...size),
	};
}
