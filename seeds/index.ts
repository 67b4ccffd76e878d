/** The seed commissions: invented work from which a newcomer sees what the planner does, made afresh on every machine. */
import type { Job } from "../core/job.ts";
import type { Commission } from "../core/plan/commission.ts";
import type { TriangleMesh } from "../core/scan/mesh.ts";
import { makeLeafFace } from "./leafFace.ts";
import { makeOwl } from "./owl.ts";

/** What the carver of an invented commission asks for, in mm of the stone figure. */
export interface CommissionWish {
	/** Length (x), width (y), height (z) of the sawn block. */
	readonly blockMm: readonly [number, number, number];
	/** Stone to be left on every side of the figure, and nothing at the open back of a shell. */
	readonly marginMm: number;
	readonly stone: string;
	/** From the rim of an open shell to the flat back that it is given; null for a closed figure. */
	readonly backMm: number | null;
	/** Ways in which the stone lies on the banker, in order of work. */
	readonly lies: Commission["lies"];
	/**
	 * New points in each of the usual rounds; null leaves the number to the cover. By cover alone the owl takes some 960 points,
	 * which hide the figure on a first look; with half as many the rounds can be told apart.
	 */
	readonly counts: readonly (number | null)[];
}

export interface Seed {
	readonly name: "owl" | "leaf-face";
	readonly title: string;
	/** For the first screen. */
	readonly sentence: string;
	readonly fileName: string;
	/** Makes the scan: millimetres, z up, foot at z = 0, front towards −y. The same bytes everywhere. */
	make(): Job<TriangleMesh>;
	readonly commission: CommissionWish;
}

const UPRIGHT = { name: "upright", closedFace: "bed" } as const;
const ON_ITS_BACK = { name: "on its back", closedFace: "back" } as const;

export const seeds: readonly Seed[] = [
	{
		name: "owl",
		title: "Owl for a newel post",
		sentence: "A closed figure: an owl on a turned base, with undercuts behind the wings and the tail.",
		fileName: "owl.stl",
		make: makeOwl,
		commission: {
			blockMm: [220, 200, 450],
			marginMm: 15,
			stone: "soft limestone",
			backMm: null,
			lies: [UPRIGHT, ON_ITS_BACK],
			counts: [null, 120, 180, 100],
		},
	},
	{
		name: "leaf-face",
		title: "Keystone with a leaf face",
		sentence: "An open shell: a face among leaves on a keystone, scanned from the front, with a rim and no back.",
		fileName: "leaf-face.ply",
		make: makeLeafFace,
		commission: {
			blockMm: [300, 150, 360],
			marginMm: 12,
			stone: "medium sandstone",
			backMm: 15,
			lies: [ON_ITS_BACK],
			counts: [null, 90, 130, 80],
		},
	},
];
