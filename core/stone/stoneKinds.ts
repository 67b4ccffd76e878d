/**
 * Densities and water of the stones that are carved, by kind. Ranges, because a stone's name fixes little: the quarry's own
 * figure replaces them. Dry, kg/m³; absorption is the greatest share of the dry mass that a specification lets it take up.
 */

export interface StoneKind {
	readonly name: string;
	/** Lowest and highest, kg/m³. */
	readonly density: readonly [number, number];
	/** Greatest absorption of water, share of the dry mass; null where no figure was found. */
	readonly absorption: number | null;
}

/*
 * Densities, unless another source stands beside the line: a handbook table that cites Cardarelli, Materials Handbook
 * (2018), CRC Handbook (97th ed.) and the Geological Society (1999).
 * Absorption: greatest values of ASTM C97 in the specifications for dimension stone (C503 marble, C568 limestone,
 * C615 granite, C616 sandstone, C629 slate), as reproduced in a supplier's table.
 */
export const STONE_KINDS: readonly StoneKind[] = [
	{ name: "marble", density: [2600, 2800], absorption: 0.002 },
	// C568 class III (high density), the class that hard limestones are sold under.
	{ name: "hard limestone", density: [2100, 2760], absorption: 0.03 },
	// C568 class I (low density).
	{ name: "soft limestone", density: [1200, 2200], absorption: 0.12 },
	{ name: "granite", density: [2640, 2760], absorption: 0.004 },
	// C616 quartzitic sandstone for the hard kind, sandstone for the others.
	{ name: "hard sandstone", density: [2140, 2650], absorption: 0.03 },
	{ name: "medium sandstone", density: [2000, 2140], absorption: 0.08 },
	{ name: "soft sandstone", density: [1600, 2000], absorption: 0.08 },
	{ name: "slate", density: [2700, 2950], absorption: 0.0045 },
	// A mineral trader's data sheet; calcite alabaster is another, heavier stone.
	{ name: "alabaster", density: [2200, 2400], absorption: null },
	// A producer's figure (2980) and 180 lb/ft³ from a second page (2883).
	{ name: "soapstone", density: [2883, 2980], absorption: null },
];

export const stoneKind = (name: string): StoneKind | undefined => STONE_KINDS.find((kind) => kind.name === name);
