/** The words of the trade as this program uses them; one sentence each. */

export const WORDS: readonly (readonly [string, string])[] = [
	["aim", "How well a line can be drilled by hand: error of the mark, error of the lean, wander with depth."],
	[
		"allowance",
		"Stone left on over the finished surface, measured along the surface's normal, never along the drill. The stop allowance is left by the drill over its target, the join allowance when the ground between points is worked down.",
	],
	["banker", "The mason's bench; on screen the space where model and stone are seen."],
	[
		"boss, stud",
		"A boss is waste left standing under a seat. A stud of the same height stands on the model under the datum, so that both sides agree.",
	],
	["bridge", "Stone deliberately left between parts until a late round."],
	["by eye", "Ground where the least spacing forbids the cover: the curve is read from the model."],
	["cover", "What a flat join leaves over the finished surface."],
	[
		"datum A, B, C",
		"The three contacts on the model on which the pointing machine's cross rests. Several sets may be linked, front and back.",
	],
	["depth", "From the stone's skin, where the drill enters, to the tip at its stop."],
	["flaw", "A vein, crack or inclusion seen on the faces of the stone, taken as a plane with a thickness."],
	["foot, holding foot", "The face of the figure that it stands on; extra stone under it, cut off last."],
	["high point", "A place that stands highest in its neighbourhood, as wide as the round's spacing."],
	["join", "Working the stone down from point to point."],
	["lean", "How far a drill line leans from square to the face it enters: two angles, along the face's u and v."],
	["lie", "How the stone lies on the banker while a group of points is worked: upright, on its back and so on."],
	["model", "What is copied: the client's scan, and the cast or print of it on the bench when there is one."],
	["natural bed", "The bedding direction of the stone, as it lay in the quarry."],
	["needle, drill line", "The rod that touches a point; a drill line when a drill follows it."],
	[
		"proof mark",
		"A place on model and waste that is only read, at the start and end of a day, to see that nothing moved.",
	],
	["proper left", "The model's own left, never the viewer's."],
	["proud", "Standing over the finished surface."],
	["reach", "The longest needle or drill that the bench has."],
	["round", "One pass over the work: new points are sunk, then joined at the round's join allowance."],
	["sag", "How far a flat join lies under a bulging surface, or over a hollow one."],
	["seat", "The place in the stone that answers to a datum."],
	["smallest form", "The width below which form is not read from the scan."],
	[
		"stone, block, offcut",
		"What is carved. A block has six sawn faces; an offcut is any leftover piece, measured or scanned.",
	],
	["stop", "Where the drill tip halts so that the allowance is left everywhere around the tip."],
	["target", "A point on the model's surface, and the place in the stone that answers to it."],
	["undercut", "A place that no permitted drill line reaches."],
];
