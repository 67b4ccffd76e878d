/** Words beside the edges of the block, for its sides. */

import type { Vec3 } from "../../core/vector.ts";
import type { Projection } from "./projection.ts";

/** What stands beside the edge of the block along an axis. */
export interface SideWords {
	readonly axis: number;
	readonly words: string;
}

export interface SideLook {
	/** Behind the scene, and of words on it. */
	readonly wall: string;
	readonly wallInk: string;
	readonly bookFont: string;
}

/** Words beside the middle of an edge, on the side away from the block. */
export function drawSides(
	pen: CanvasRenderingContext2D,
	view: Projection,
	block: Vec3,
	sides: readonly SideWords[],
	look: SideLook,
): void {
	const [mx, my] = view.shownToScreen([block[0] / 2, block[1] / 2, block[2] / 2]);
	pen.font = `bold 13px ${look.bookFont}`;
	pen.textAlign = "center";
	pen.textBaseline = "middle";
	for (const { axis, words } of sides) {
		const end: [number, number, number] = [0, 0, 0];
		end[axis] = block[axis];
		const [x0, y0] = view.shownToScreen([0, 0, 0]);
		const [x1, y1] = view.shownToScreen(end);
		const long = Math.hypot(x1 - x0, y1 - y0);
		if (long < 30) continue;
		const [x, y] = [(x0 + x1) / 2, (y0 + y1) / 2];
		let [nx, ny] = [(y1 - y0) / long, -(x1 - x0) / long];
		if (nx * (x - mx) + ny * (y - my) < 0) [nx, ny] = [-nx, -ny];
		const room = 14 + Math.abs(nx) * (pen.measureText(words).width / 2);
		pen.lineWidth = 3.5;
		pen.strokeStyle = look.wall;
		pen.strokeText(words, x + nx * room, y + ny * room);
		pen.fillStyle = look.wallInk;
		pen.fillText(words, x + nx * room, y + ny * room);
	}
}
