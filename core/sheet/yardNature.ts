/** Natural bed, flaws and places to be kept sound on the yard page: the commission's own, or what is common practice. */

import type { FaceName } from "../plan/commission.ts";
import type { Plan } from "../plan/planFile.ts";
import { degreesFromCosine } from "../text/angle.ts";
import { angleText, lengthText } from "../text/format.ts";
import { dot, type Vec3 } from "../vector.ts";
import { arrow, type Drawing, disc, line, text } from "./drawing.ts";
import { FACE_VIEWS } from "./faces.ts";
import type { ToPaper } from "./mapPicture.ts";
import { inView } from "./projection.ts";
import { bodyBold, RADDLE, SLATE } from "./style.ts";

/** Of the bed's normal in the view: under this the bed as good as faces the viewer. */
const FACING = 0.2;
/** Out of level by less than this is level on a saw table, degrees. */
const LEVEL_DEG = 0.5;

export function bedWords({ stone: { bed_normal: n, bed_deg: off } }: Plan): string {
	if (n === null || off === null)
		return "level, as it lay in the quarry, for work that stands outdoors (common practice; none was entered)";
	const tilt = degreesFromCosine(Math.abs(n[2]));
	const lies = tilt < LEVEL_DEG ? "level" : `${angleText(tilt)} out of level`;
	return `${lies} in this stone; the figure stands ${angleText(off)} off square to it`;
}

export const flawWords = ({ stone, sheet }: Plan): { readonly about: string; readonly words: string }[] =>
	stone.flaws.map(({ name, crossing_mm2: area, thin, sound_mm }) => {
		const cut =
			area === null
				? "crosses the figure or passes by it: an open scan does not tell"
				: area > 0
					? `crosses ${(area / 100).toFixed(0)} cm² of the figure${thin ? ", at a thin part" : ""}`
					: "passes by the figure";
		const near =
			sound_mm.length === 0
				? ""
				: `; ${lengthText(Math.min(...sound_mm), sheet.units)} from the nearest place to be kept sound`;
		return { about: `Flaw ${name}`, words: `${cut}${near}` };
	});

export const natureKey = ({ stone }: Plan): string =>
	`Wavy lines: natural bed${stone.bed_normal === null ? "" : " as it was entered (a ring: it faces you)"}.${stone.keepSound_mm.length > 0 ? " Red rings: places to be kept sound." : ""}`;

/** Waves beside the block along its bed, the arrow that says which way is up, and a ring at each place to be kept sound. */
export function drawNature(
	on: Drawing,
	plan: Plan,
	face: FaceName,
	room: { readonly x1: number; readonly y1: number },
	to: ToPaper,
): void {
	const view = FACE_VIEWS[face];
	const n: Vec3 = plan.stone.bed_normal ?? [0, 0, 1];
	const pen = { colour: SLATE, width: 0.2 };
	const [cx, cy] = [room.x1 + 7, room.y1 - 6];
	const [a, b] = [dot(view.right, n), dot(view.up, n)];
	const size = Math.sqrt(a * a + b * b);
	if (size < FACING) disc(on, cx, cy, 3, { pen });
	else
		for (const t of [-3, 0, 3]) {
			// Along the bed, and square to it: y runs down on the paper.
			const at = (s: number, rise: number): [number, number] => {
				const up = t + rise;
				return [cx + (s * b + up * a) / size, cy + (s * a - up * b) / size];
			};
			const wave = [0, 0.7, 0, -0.7, 0, 0.7, 0].flatMap((rise, i) => at(1.5 * i - 4.5, rise));
			line(on, pen, ...wave);
		}
	arrow(on, { colour: RADDLE, width: 0.5 }, cx, room.y1 - 12, cx, room.y1 - 26, 3);
	text(on, cx, room.y1 - 27.5, "up", { ...bodyBold, colour: RADDLE, anchor: "middle" });
	for (const place of plan.stone.keepSound_mm) {
		const [x, y] = inView(view, place);
		disc(on, ...to(x, y), 1.8, { pen: { colour: RADDLE, width: 0.4 } });
	}
}
