/** How the stone lies, in words that leave no doubt which way it is tipped: the figure's own side, and the block's face. */

/** "the block's left face down", "the block's bed down" */
const faceDown = (face: string): string =>
	`the block's ${face === "bed" || face === "top" ? face : `${face} face`} down`;

/** "on its proper right side: the block's left face down" */
export const lieText = (name: string, closedFace: string | null): string =>
	closedFace === null ? name : `${name}: ${faceDown(closedFace)}`;

/** The face that lies down in a lie of the plan: the one that is not open; null where none is closed. */
export const faceThatIsDown = (
	openFaces: readonly string[],
	faces: readonly { readonly name: string }[],
): string | null => faces.find(({ name }) => !openFaces.includes(name))?.name ?? null;

export const SIDES_TOLD =
	"Left and right of the block are yours as you face its front. The figure's own are called proper: its proper right is on your left as it looks at you.";
