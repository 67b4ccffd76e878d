/** How the stone lies on the banker while a group of points is worked. */

/** One way in which the stone lies: the face that lies on the banker is closed, all others are open. */
export interface Lie {
	readonly name: string;
	readonly closedFace: string;
}

/**
 * Lies for a sawn block, in the order of work (common practice): a figure stands first and is laid on its back for what
 * faces down and forward; a relief, an open shell with nothing to see behind, lies on its back from the start.
 */
export function proposeLies(closedFigure: boolean): Lie[] {
	const upright: Lie = { name: "upright", closedFace: "bed" };
	const onItsBack: Lie = { name: "on its back", closedFace: "back" };
	return closedFigure ? [upright, onItsBack] : [onItsBack, upright];
}
