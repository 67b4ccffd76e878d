/** The hull of a great scan, and a proved answer whether the owl fits its block. */

import { Vector3 } from "three";
import { ConvexHull } from "three-stdlib";
import { finish } from "../../core/job.ts";
import { seededRandom } from "../../core/random.ts";
import { type Stone, stoneOf } from "../../core/stone/block.ts";
import { widthsAt } from "../../core/stone/boxJudge.ts";
import { fitBlock, type StoneFit } from "../../core/stone/fitBlock.ts";
import { fitStone } from "../../core/stone/fitStone.ts";
import { convexHull, type Hull } from "../../core/stone/hull.ts";
import { bodyOf } from "../../core/stone/support.ts";
import { dot, IDENTITY, place, rotationFromQuaternion, unit, type Vec3 } from "../../core/vector.ts";
import { demoCommission } from "../../seeds/demo.ts";
import type { Comparison } from "./harness.ts";
import { dragonVertices, owl } from "./inputs.ts";

/** Vertices as the library wants them; made beforehand, so that only its hull is timed. */
const asVectors = (positions: Float64Array): Vector3[] =>
	Array.from({ length: positions.length / 3 }, (_, i) => new Vector3().fromArray(positions, 3 * i));

function libraryVolume({ faces }: ConvexHull): number {
	const origin = faces[0].edge.head().point;
	let volume = 0;
	for (const { edge } of faces) {
		const [a, b, c] = [edge, edge.next, edge.prev].map((e) => e.head().point.clone().sub(origin));
		volume += a.dot(b.cross(c)) / 6;
	}
	return volume;
}

function sameVolume(ours: number, theirs: number): void {
	// The library takes points for one plane's that lie within a rounding-sized tolerance of it.
	if (!(Math.abs(ours / theirs - 1) < 1e-9)) throw new Error(`hulls of ${ours} and ${theirs} mm³`);
}

/** Every gap counted off on all vertices, and no seeded turn better than the bound says. */
function checkFit(fit: StoneFit, positions: Float64Array, sides: Vec3, margin: number, hull: Hull): void {
	const gaps = new Array<number>(6).fill(Infinity);
	for (let i = 0; i < positions.length; i += 3) {
		const at = place(fit.placement, [positions[i], positions[i + 1], positions[i + 2]]);
		for (let k = 0; k < 3; k++) {
			gaps[2 * k] = Math.min(gaps[2 * k], at[k]);
			gaps[2 * k + 1] = Math.min(gaps[2 * k + 1], sides[k] - at[k]);
		}
	}
	for (const [k, { face, gap }] of fit.gaps.entries())
		if (!(Math.abs(gap - gaps[k]) < 1e-8)) throw new Error(`${face}: gap ${gap}, counted off ${gaps[k]}`);
	if (!(Math.abs(fit.spare - (Math.min(...gaps) - margin)) < 1e-8)) throw new Error(`spare ${fit.spare}`);
	if (!fit.certified || fit.bound - fit.spare > 0.1) throw new Error(`not proved: ${fit.spare} … ${fit.bound}`);
	const random = seededRandom(5);
	for (let n = 0; n < 2000; n++) {
		const rotation = rotationFromQuaternion([random.normal(), random.normal(), random.normal(), random.normal()]);
		const spares = sides.map((side, k) => {
			const axis: Vec3 = [rotation[3 * k], rotation[3 * k + 1], rotation[3 * k + 2]];
			let [low, high] = [Infinity, -Infinity];
			for (let i = 0; i < hull.vertices.length; i += 3) {
				const s = dot(axis, [hull.vertices[i], hull.vertices[i + 1], hull.vertices[i + 2]]);
				low = Math.min(low, s);
				high = Math.max(high, s);
			}
			return (side - (high - low)) / 2 - margin;
		});
		if (Math.min(...spares) > fit.bound) throw new Error(`a turn spares ${Math.min(...spares)}, bound ${fit.bound}`);
	}
}

export default function* stoneBench(): Iterable<Comparison> {
	const dragon = dragonVertices(800_000);
	const dragonVectors = asVectors(dragon);
	yield {
		name: "hull of 800,000 dragon vertices",
		against: "three-stdlib ConvexHull",
		aim: 0.4,
		ours: () => finish(convexHull(dragon)).volume,
		theirs: () => new ConvexHull().setFromPoints(dragonVectors),
		agree: (ours, theirs) => sameVolume(ours as number, libraryVolume(theirs as ConvexHull)),
	};

	const { mesh, seed } = owl();
	const { positions } = mesh;
	const owlVectors = asVectors(positions);
	const { block_mm: sides, margins_mm: margins } = demoCommission(seed).stone;
	if (!sides) throw new Error("the owl's commission names a block");
	for (const turning of ["free", "upright"] as const)
		yield {
			name: `owl into its block, turned ${turning}, proved to 0.1 mm`,
			against: "three-stdlib ConvexHull of its vertices",
			aim: 5,
			ours: () => {
				const hull = finish(convexHull(positions));
				return { hull, fit: finish(fitBlock(hull, sides, { turning: { kind: turning }, margins, tolerance: 0.1 })) };
			},
			theirs: () => new ConvexHull().setFromPoints(owlVectors),
			agree: (ours, theirs) => {
				const { hull, fit } = ours as { hull: Hull; fit: StoneFit };
				sameVolume(hull.volume, libraryVolume(theirs as ConvexHull));
				checkFit(fit, positions, sides, margins.bed, hull);
			},
		};

	yield* seededCases(positions, owlVectors);
}

/** Twenty seeded cases each, from the scan's vertices to the answer, and a yard of a hundred boxes. */
function* seededCases(positions: Float64Array, vectors: Vector3[]): Iterable<Comparison> {
	const hull = finish(convexHull(positions));
	const body = bodyOf(hull);
	const wide = widthsAt(body, IDENTITY);
	const random = seededRandom(20);
	const sidesOf = (): Vec3 => [0, 1, 2].map((k) => wide[k] * (0.95 + 0.2 * random.next())) as unknown as Vec3;
	const library = () => new ConvexHull().setFromPoints(vectors);
	const proved = ({ certified, spare, bound }: StoneFit, what: string): void => {
		if (!certified || bound - spare > 0.1) throw new Error(`${what} not proved: ${spare} … ${bound}`);
	};
	const fromMesh = (sides: Vec3) => () => {
		const fit = finish(fitBlock(finish(convexHull(positions)), sides));
		proved(fit, `block ${sides.join(" × ")}`);
		return fit;
	};
	const blocks = Array.from({ length: 20 }, sidesOf);
	yield {
		name: "owl into 20 seeded blocks, from mesh to proof at 0.1 mm",
		against: "three-stdlib ConvexHull of its vertices",
		aim: 5,
		cases: blocks.map(fromMesh),
		ours: fromMesh(blocks[0]),
		theirs: library,
		agree: (_, theirs) => sameVolume(hull.volume, libraryVolume(theirs as ConvexHull)),
	};
	const offcuts = Array.from({ length: 20 }, () => {
		const [x, y, z] = wide.map((w) => w * (1.1 + 0.1 * random.next()));
		const planes = [-1, 0, 0, 0, 1, 0, 0, x, 0, -1, 0, 0, 0, 1, 0, y, 0, 0, -1, 0, 0, 0, 1, z];
		for (let k = 0; k < 6; k++) {
			const [a, b, c] = unit([random.normal(), random.normal(), random.normal()]);
			const reach = (Math.abs(a) * x + Math.abs(b) * y + Math.abs(c) * z) / 2;
			planes.push(a, b, c, (a * x + b * y + c * z) / 2 + reach * (0.7 + 0.2 * random.next()));
		}
		return stoneOf({ kind: "planes", planes: Float64Array.from(planes) });
	});
	const inOffcut = (stone: Stone) => () => {
		const fit = finish(fitStone(hull, stone));
		proved(fit, `offcut of ${stone.faces.length} faces`);
		return fit;
	};
	yield {
		name: "owl into 20 seeded convex offcuts of up to 12 faces",
		against: "three-stdlib ConvexHull of its vertices",
		aim: null,
		within: 3000,
		cases: offcuts.map(inOffcut),
		ours: inOffcut(offcuts[0]),
		theirs: library,
		agree: () => {},
	};
	const yard = Array.from({ length: 100 }, sidesOf);
	const throughYard = () => {
		for (const sides of yard) proved(finish(fitBlock(hull, sides)), `block ${sides.join(" × ")}`);
		return yard;
	};
	yield {
		name: "a yard of 100 seeded boxes, one after another on one core",
		against: "three-stdlib ConvexHull of the owl's vertices",
		aim: null,
		within: 10_000,
		ours: throughYard,
		theirs: library,
		agree: () => {},
	};
}
