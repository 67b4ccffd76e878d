/** How the stone lies on the banker while a group of points is worked. */

/** One way in which the stone lies: the face that lies on the banker is closed, all others are open. */
export interface Lie {
	readonly name: string;
	readonly closedFace: string;
}

const NAMES: Readonly<Record<string, string>> = {
	bed: "upright",
	back: "on its back",
	front: "on its face",
	left: "on its left side",
	right: "on its right side",
	top: "on its head",
};

/** The lie on a face; faces of an offcut have no trade name of their own. */
export const lieOn = (closedFace: string): Lie => ({ name: NAMES[closedFace] ?? `on ${closedFace}`, closedFace });

/**
 * Lies for a sawn block, in the order of work (common practice): a figure stands first and is laid on its back for what
 * faces down and forward; a relief, an open shell with nothing to see behind, lies on its back from the start.
 */
export function proposeLies(closedFigure: boolean): Lie[] {
	return closedFigure ? [lieOn("bed"), lieOn("back")] : [lieOn("back"), lieOn("bed")];
}
