import { describe, expect, it } from "vitest";
import { seededRandom } from "../../core/random.ts";
import { FACE_VIEWS } from "../../core/sheet/faces.ts";
import { along, distance, place, rotationFromQuaternion, sub, turnBack, unit, type Vec3 } from "../../core/vector.ts";
import { nearestMark, rayUnder, stepped } from "../../renderer/banker/aim.ts";
import { axesOf, orbited, panned, poseOn, VIEWS, viewFrom, viewOf, zoomed } from "../../renderer/banker/camera.ts";
import { cividis } from "../../renderer/banker/colourMap.ts";
import { type Labelled, placeLabels } from "../../renderer/banker/labelLayout.ts";
import { projection } from "../../renderer/banker/projection.ts";
import { scaleBar } from "../../renderer/banker/scaleBar.ts";
import { GROUND_OVER_REACH, snapVertex } from "../../renderer/banker/snap.ts";

const BOX = { min: [0, 0, 0], max: [240, 220, 460] } as const;
const dot = (a: readonly number[], b: readonly number[]): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

describe("camera", () => {
	it("looks on every face as the printed map of that face does", () => {
		for (const name of VIEWS) {
			const axes = axesOf(viewFrom(name, BOX, 1.5));
			const map = FACE_VIEWS[name];
			expect(dot(axes.right, map.right), `${name} right`).toBeCloseTo(1, 12);
			expect(dot(axes.up, map.up), `${name} up`).toBeCloseTo(1, 12);
			expect(dot(axes.eye, map.towards), `${name} towards`).toBeCloseTo(1, 12);
		}
	});

	it("names the view it has, and none in between", () => {
		for (const name of VIEWS) expect(viewOf(viewFrom(name, BOX, 1))).toBe(name);
		expect(viewOf(orbited(viewFrom("front", BOX, 1), 0.1, 0))).toBeNull();
		expect(viewOf(orbited(viewFrom("top", BOX, 1), 0.5, 0))).toBeNull();
	});

	it("keeps right, up and eye square and unit long however it is turned", () => {
		const random = seededRandom(5);
		let pose = poseOn(BOX, 1.3, { azimuth: 0, elevation: 0 });
		for (let i = 0; i < 200; i++) {
			pose = orbited(pose, 4 * random.next() - 2, 2 * random.next() - 1);
			const { right, up, eye } = axesOf(pose);
			for (const [a, b, want] of [
				[right, right, 1],
				[up, up, 1],
				[eye, eye, 1],
				[right, up, 0],
				[up, eye, 0],
				[right, eye, 0],
			] as const)
				expect(dot(a, b)).toBeCloseTo(want, 12);
			expect(right[1] * up[2] - right[2] * up[1]).toBeCloseTo(eye[0], 12);
		}
	});

	it("shows all eight corners of the bounds from anywhere", () => {
		const random = seededRandom(9);
		for (let i = 0; i < 50; i++) {
			const aspect = 0.5 + 2 * random.next();
			const pose = poseOn(BOX, aspect, { azimuth: 7 * random.next(), elevation: 3 * random.next() - 1.5 });
			const { right, up } = axesOf(pose);
			for (let c = 0; c < 8; c++) {
				const p = [0, 1, 2].map((k) => ((c >> k) & 1 ? BOX.max[k] : BOX.min[k]) - pose.target[k]);
				expect(Math.abs(dot(p, up))).toBeLessThanOrEqual(pose.span / 2);
				expect(Math.abs(dot(p, right))).toBeLessThanOrEqual((pose.span / 2) * aspect);
			}
		}
	});

	it("zooms about the pointer: what is under it stays under it", () => {
		const pose = poseOn(BOX, 1.5, { azimuth: 0.7, elevation: 0.4 });
		const [right, up] = [83, -41];
		const near = zoomed(pose, 2.5, right, up);
		const axes = axesOf(pose);
		const place = (p: typeof pose, r: number, u: number): number[] =>
			p.target.map((t, i) => t + axes.right[i] * r + axes.up[i] * u);
		const scale = near.span / pose.span;
		place(near, right * scale, up * scale).forEach((value, i) => {
			expect(value).toBeCloseTo(place(pose, right, up)[i], 9);
		});
		expect(scale).toBeCloseTo(1 / 2.5, 12);
	});

	it("moves what is seen with the hand", () => {
		const pose = viewFrom("front", BOX, 1);
		expect(panned(pose, 10, 5).target).toEqual([pose.target[0] - 10, pose.target[1], pose.target[2] - 5]);
	});
});

describe("from the screen back", () => {
	const random = seededRandom(12);
	const spot = (): Vec3 => [0, 1, 2].map(() => 200 * random.next() - 100) as unknown as Vec3;
	const cases = Array.from({ length: 40 }, () => {
		const pose = poseOn(BOX, 1.5, { azimuth: 7 * random.next(), elevation: 2.8 * random.next() - 1.4 });
		const quaternion = [0, 1, 2, 3].map(() => random.next() - 0.5) as [number, number, number, number];
		const placement = { rotation: rotationFromQuaternion(quaternion), translation: spot() };
		const toShown = (model: Vec3): Vec3 => place(placement, model);
		const view = projection(pose, 900, 600, toShown, (d) => turnBack(placement.rotation, d));
		return { pose, placement, view, perPixel: pose.span / 600 };
	});

	it("the ray under the pixel of a place runs through it, and with a cut begins on its plane", () => {
		for (const { pose, placement, view, perPixel } of cases) {
			const at = spot();
			const [x, y] = view.toScreen(at);
			const [right, up] = [(x - 450) * perPixel, (300 - y) * perPixel];
			const { origin, direction } = rayUnder(pose, placement, right, up, null);
			const way = sub(at, origin);
			expect(dot(direction, direction)).toBeCloseTo(1, 12);
			expect(distance(at, along(origin, direction, dot(way, direction)))).toBeLessThan(1e-6);
			expect(dot(way, direction)).toBeGreaterThan(0);
			const cut = rayUnder(pose, placement, right, up, { normal: [0, 0, 1], offset: 20 });
			expect(place(placement, cut.origin)[2]).toBeLessThanOrEqual(Math.max(20, place(placement, origin)[2]) + 1e-9);
			if (place(placement, direction)[2] < placement.translation[2])
				expect(place(placement, cut.origin)[2]).toBeCloseTo(20, 6);
		}
	});

	it("a step keeps to the surface, and has its length and its way on the screen", () => {
		for (const { pose, placement, view } of cases) {
			const from = { position: spot(), normal: unit(spot()) };
			const to = stepped(pose, placement, from, 3, 4) as Vec3;
			expect(distance(to, from.position)).toBeCloseTo(5, 9);
			expect(dot(sub(to, from.position), from.normal)).toBeCloseTo(0, 9);
			const [[x0, y0], [x1, y1]] = [view.toScreen(from.position), view.toScreen(to)];
			expect(3 * (x1 - x0) - 4 * (y1 - y0)).toBeGreaterThan(0);
		}
	});

	it("the nearest mark within a finger's aim", () => {
		const at = { position: [0, 0, 0], normal: [0, 0, 1] } as const;
		const pick = (index: number, x: number) => ({ mark: { kind: "pick", index, place: at } as const, x, y: 0 });
		expect(nearestMark([pick(0, 0), pick(1, 9)], 5, 0)).toMatchObject({ index: 1 });
		expect(nearestMark([pick(0, 0)], 17, 0)).toBeNull();
	});
});

describe("scale bar", () => {
	it("is as long as it can be and of a round length", () => {
		expect(scaleBar(1, 140, "mm")).toEqual({ pixels: 100, words: "100 mm" });
		expect(scaleBar(0.4, 140, "mm")).toEqual({ pixels: 50 / 0.4, words: "50 mm" });
		expect(scaleBar(0.001, 140, "mm").words).toBe("0.1 mm");
		expect(scaleBar(25.4 / 10, 140, "in")).toEqual({ pixels: 100, words: "10 in" });
	});
	it("never leaves its room, whatever the zoom", () => {
		for (let e = -3; e < 3; e += 0.037) {
			const { pixels } = scaleBar(10 ** e, 140, "mm");
			expect(pixels).toBeLessThanOrEqual(140 + 1e-9);
			expect(pixels).toBeGreaterThan(140 / 2.51);
		}
	});
});

describe("labels", () => {
	const mark = (x: number, y: number, priority = 0): Labelled => ({ x, y, radius: 6, width: 15, height: 12, priority });

	it("numbers a mark that stands alone, to its right", () => {
		expect(placeLabels([mark(100, 100)])).toEqual([{ x: 108, y: 94 }]);
	});
	it("keeps the more important of two marks on one spot", () => {
		expect(placeLabels([mark(50, 50, 1), mark(51, 50, 2)])).toEqual([null, { x: 59, y: 44 }]);
	});
	it("goes to the left where the right is taken", () => {
		const [left] = placeLabels([mark(50, 50), mark(70, 50, 1)]);
		expect(left).toEqual({ x: 50 - 8 - 15, y: 44 });
	});
	it("never lets two numbers or numbered marks touch (2,000 marks, seed 3)", () => {
		const random = seededRandom(3);
		const marks = Array.from({ length: 2000 }, () => mark(900 * random.next(), 600 * random.next(), random.below(5)));
		const places = placeLabels(marks);
		const boxes: number[][] = [];
		places.forEach((place, i) => {
			if (!place) return;
			const { x, y, radius, width, height } = marks[i];
			boxes.push([x - radius, y - radius, x + radius, y + radius]);
			boxes.push([place.x, place.y, place.x + width, place.y + height]);
		});
		expect(boxes.length).toBeGreaterThan(600);
		let touching = 0;
		for (let i = 0; i < boxes.length; i++)
			for (let k = i + 1; k < boxes.length; k++) {
				const [a, b] = [boxes[i], boxes[k]];
				if (a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3]) touching++;
			}
		expect(touching).toBe(0);
	});
});

describe("colour map", () => {
	it("grows lighter all the way, so that it reads in grey", () => {
		const light = (share: number): number => {
			const linear = cividis(share).map((byte) => {
				const s = byte / 255;
				return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
			});
			return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2];
		};
		for (let i = 1; i <= 64; i++) expect(light(i / 64), String(i)).toBeGreaterThan(light((i - 1) / 64));
	});
	it("starts dark blue and ends yellow", () => {
		// Ends of the published table: (0, 34, 78) and (254, 232, 56), from memory; the polynomial stays within 4.
		[0, 34, 78].forEach((c, i) => {
			expect(Math.abs(cividis(0)[i] - c)).toBeLessThanOrEqual(4);
		});
		[254, 232, 56].forEach((c, i) => {
			expect(Math.abs(cividis(1)[i] - c)).toBeLessThanOrEqual(14);
		});
		expect(cividis(-3)).toEqual(cividis(0));
		expect(cividis(7)).toEqual(cividis(1));
	});
});

describe("snapping", () => {
	/** A grid of ground, z = f(x, y), 0.5 mm apart. */
	const ground = (f: (x: number, y: number) => number) => {
		const positions: number[] = [];
		const normals: number[] = [];
		for (let x = -8; x <= 8; x += 0.5)
			for (let y = -8; y <= 8; y += 0.5) {
				const e = 1e-4;
				const dx = (f(x + e, y) - f(x - e, y)) / (2 * e);
				const dy = (f(x, y + e) - f(x, y - e)) / (2 * e);
				const l = Math.hypot(dx, dy, 1);
				positions.push(x, y, f(x, y));
				normals.push(-dx / l, -dy / l, 1 / l);
			}
		return { positions, normals };
	};
	const snapAt = (
		g: ReturnType<typeof ground>,
		x: number,
		y: number,
		f: (x: number, y: number) => number,
		reach = 3,
	) => {
		const hit = [x, y, f(x, y)] as const;
		const near: number[] = [];
		for (let v = 0; v < g.positions.length / 3; v++)
			if (Math.hypot(...[0, 1, 2].map((k) => g.positions[3 * v + k] - hit[k])) <= GROUND_OVER_REACH * reach)
				near.push(v);
		const v = snapVertex(g.positions, g.normals, near, hit, [0, 0, 1], reach);
		return v < 0 ? null : g.positions.slice(3 * v, 3 * v + 3);
	};

	it("goes to the top of a knob and to the floor of a pit", () => {
		const knob = (x: number, y: number): number => 2 * Math.exp(-(x * x + y * y) / 2);
		expect(snapAt(ground(knob), 1.5, 0.5, knob)).toEqual([0, 0, 2]);
		const pit = (x: number, y: number): number => -2 * Math.exp(-(x * x + y * y) / 2);
		expect(snapAt(ground(pit), -1, 1, pit)).toEqual([0, 0, -2]);
	});
	it("goes to the crest of a ridge beside the hit", () => {
		const ridge = (x: number): number => -Math.abs(x);
		const crest = snapAt(ground(ridge), 1.2, 0, ridge);
		expect(crest?.[0]).toBe(0);
	});
	it("stays on flat and on sloping ground", () => {
		const flat = (): number => 0;
		expect(snapAt(ground(flat), 0.3, 0.2, flat)).toBeNull();
		const slope = (x: number, y: number): number => 0.3 * x - 0.2 * y;
		expect(snapAt(ground(slope), 0.3, 0.2, slope)).toBeNull();
	});
	it("takes no notice of the other side of a thin part", () => {
		const knob = (x: number, y: number): number => 2 * Math.exp(-(x * x + y * y) / 2);
		const g = ground(knob);
		const vertices = g.positions.length / 3;
		for (let v = 0; v < vertices; v++) {
			g.positions.push(g.positions[3 * v], g.positions[3 * v + 1], -4);
			g.normals.push(0, 0, -1);
		}
		expect(snapAt(g, 1.5, 0.5, knob)).toEqual([0, 0, 2]);
	});
});
