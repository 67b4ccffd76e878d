/** A lobed leaf with midrib and veins, as a sheet that stands before its ground in relief carving. */
import { cosDegrees, sinDegrees } from "../core/exactAngle.ts";
import {
	angleOf,
	type Box,
	clamp,
	curveThrough,
	type Field,
	hill,
	type Stroke,
	smoothMax,
	smoothMin,
	smoothStep,
} from "./field.ts";

/** y up to which the stone behind a leaf is filled: past any ground in front of which one stands, mm. */
const BACKED_Y = 80;

export interface Leaf {
	/** Where the spine begins, x and z in mm. */
	readonly base: readonly [number, number];
	/** Where the spine sets out to, degrees from +z towards +x. */
	readonly heading: number;
	/** How far the spine turns over its length, degrees, positive as `heading`. */
	readonly bend: number;
	/** Along the spine, mm. */
	readonly length: number;
	/** Greatest half width, mm. */
	readonly width: number;
	/** Lobes on each side. */
	readonly lobes: number;
	/** How deep the bays between the lobes are, as a share of the width. */
	readonly bays: number;
	/** y of the middle of the sheet at even steps along the spine, mm; smaller is nearer the viewer. */
	readonly rise: readonly number[];
	/** How far the edges lie behind the midrib where the leaf is widest, mm; negative: before it. */
	readonly fall: number;
	/** mm */
	readonly thickness: number;
	/** How far the stone behind the leaf stands back from its outline, mm: the depth of the undercut. */
	readonly undercut: number;
	/** 1, or −1 for the mirror image on the side x < 0. */
	readonly side: 1 | -1;
}

const width = curveThrough([
	[0, 0.3],
	[0.12, 0.62],
	[0.35, 1],
	[0.6, 0.9],
	[0.8, 0.6],
	[0.93, 0.28],
	[1, 0.02],
]);

const leafField = (leaf: Leaf): Field => {
	const { length, lobes, bays, fall, thickness, undercut } = leaf;
	const sin = sinDegrees(leaf.heading);
	const cos = cosDegrees(leaf.heading);
	// A straight spine is a very wide arc.
	const bend = Math.abs(leaf.bend) < 1 ? 1 : leaf.bend;
	const radius = (length * 57.29577951308232) / Math.abs(bend);
	const hand = bend < 0 ? -1 : 1;
	const rise = curveThrough(leaf.rise.map((y, i) => [i / (leaf.rise.length - 1), y]));
	return (mx, y, mz) => {
		const x = leaf.side * mx - leaf.base[0];
		const z = mz - leaf.base[1];
		const p = x * sin + z * cos;
		const q = radius - hand * (x * cos - z * sin);
		const t = radius * angleOf(q, p);
		const s = radius - Math.sqrt(p * p + q * q);
		const as = Math.abs(s);
		// Veins and lobes run forward from the midrib.
		const forward = (t - 0.55 * as) / length;
		const at = clamp(forward, 0, 1);
		const c = at * (lobes + 0.35);
		const f = 2 * (c - Math.floor(c)) - 1;
		const full = leaf.width * width(at);
		const half = full * (1 - bays * f * f);
		const beyond = -forward * length;
		const outline = Math.max(as - half, forward > 1 ? (forward - 1) * length : -1e3);
		const edge = as / leaf.width;
		const sheet = y - rise(clamp(t / length, 0, 1)) - fall * edge * edge;
		let relief = 0;
		if (sheet < 2) {
			const out = smoothStep(3, 9, as) * smoothStep(1, 0.85, at);
			relief = 2.4 * hill(s, 4.2) * smoothStep(1, 0.8, at) - 1.5 * hill(as - 6, 3.5);
			relief += out * (3.2 * (1 - f * f) - 1.6 - 2 * hill(f, 0.36));
		}
		const face = 0.85 * (Math.abs(sheet) - thickness / 2 - (sheet < 0 ? relief : 0));
		const shell = smoothMax(face, Math.max(0.75 * outline, beyond), 2.2);
		// The stone that is left standing behind, wider towards the ground.
		const inset = undercut - 0.3 * clamp(sheet, 0, 16);
		const web = Math.max(as - full * (1 - 0.5 * bays), (forward - 0.88) * length, beyond - 0.5 * undercut) + inset;
		return smoothMin(shell, smoothMax(smoothMax(-sheet, web, 6), y - BACKED_Y, 1), 5);
	};
};

/** Box of the leaf: along its spine, wide enough for the lobes, over the range of its rise. */
const leafBox = (leaf: Leaf): Box => {
	const box: [number, number, number, number, number, number] = [1e3, 1e3, 1e3, -1e3, -1e3, -1e3];
	let x = leaf.base[0];
	let z = leaf.base[1];
	for (let i = 0; i <= 16; i++) {
		box[0] = Math.min(box[0], x - leaf.width);
		box[2] = Math.min(box[2], z - leaf.width);
		box[3] = Math.max(box[3], x + leaf.width);
		box[5] = Math.max(box[5], z + leaf.width);
		const heading = leaf.heading + (leaf.bend * (i + 0.5)) / 16;
		x += (leaf.length / 16) * sinDegrees(heading);
		z += (leaf.length / 16) * cosDegrees(heading);
	}
	if (leaf.side < 0) [box[0], box[3]] = [-box[3], -box[0]];
	box[1] = Math.min(...leaf.rise) + Math.min(leaf.fall, 0) - leaf.thickness / 2 - 5;
	box[4] = BACKED_Y;
	return box;
};

/** The leaf as a stroke that is added to what is there. */
export const leafStroke = (leaf: Leaf): Stroke => ({
	kind: "add",
	box: leafBox(leaf),
	blend: 1.5,
	field: leafField(leaf),
});
