/** Everything that was picked on the model: it is kept in the model frame, and goes along when the model changes there. */

import type { Commission, PlaceOnModel } from "../../core/plan/commission.ts";

type Spot = [number, number, number];

/** The commission with every place on the model moved by `at`, and every direction there by `along`. */
export function carriedAlong(c: Commission, at: (spot: Spot) => Spot, along: (normal: Spot) => Spot): Commission {
	const moved = <T extends PlaceOnModel>(place: T): T => ({
		...place,
		position_mm: at(place.position_mm),
		normal: along(place.normal),
	});
	return {
		...c,
		model: {
			...c.model,
			castPairs: c.model.castPairs.map((pair) => ({ ...pair, a_mm: at(pair.a_mm), b_mm: at(pair.b_mm) })),
		},
		stone: { ...c.stone, keepSound: c.stone.keepSound.map(moved) },
		datumSets: c.datumSets.map((set) => ({
			...set,
			datums: [moved(set.datums[0]), moved(set.datums[1]), moved(set.datums[2])],
			link: set.link && { ...set.link, points: set.link.points.map(moved) },
		})),
		proofMarks: c.proofMarks.map(moved),
		picks: c.picks.map(moved),
		drilled: c.drilled.map(moved),
		areas: c.areas.map((area) => ({ ...area, dabs: area.dabs.map(moved) })),
		finish: {
			...c.finish,
			gilded: c.finish.gilded.map((area) => ({
				...area,
				strokes: area.strokes.map((stroke) => ({ ...stroke, at_mm: at(stroke.at_mm) })),
			})),
		},
		bridges: c.bridges.map((bridge) => ({ ...bridge, from_mm: at(bridge.from_mm), to_mm: at(bridge.to_mm) })),
	};
}
