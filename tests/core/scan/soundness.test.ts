import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { newCommission } from "../../../core/plan/commission.ts";
import { examine } from "../../../core/scan/health.ts";
import { type MendChoices, mend } from "../../../core/scan/mend.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { listShells } from "../../../core/scan/shellList.ts";
import { judgeSoundness, type Mending, type Soundness } from "../../../core/scan/soundness.ts";
import { soundnessText } from "../../../core/text/soundWords.ts";
import { dragonMesh } from "../../support/dragonMesh.ts";
import { box, meshFrom, together, torus } from "./brokenMeshes.ts";

const NOTHING: MendChoices = {
	weldWithin: 0,
	dropArealess: false,
	dropDoubled: false,
	keepShells: "all",
	faceOutward: false,
	closeHolesUpTo: 0,
};

/** The verdict on a mesh in mm of which that much has been mended. */
function judge(mesh: TriangleMesh, done: Mending = {}): Soundness {
	const choices = {
		...NOTHING,
		dropDoubled: done.dropDoubled ?? false,
		faceOutward: done.faceOutward ?? false,
		keepShells: done.keepLargestShell ? "largest" : "all",
		closeHolesUpTo: done.closeHolesUpTo_mm ?? 0,
	} as const;
	const now = finish(mend(mesh, choices)).mesh;
	const health = finish(examine(now));
	return judgeSoundness({
		health,
		flipped: health.flippedTriangles,
		pieces: listShells(now, health.places.shellOf, health.shells).shells.map(({ area }) => area),
		rims: [...health.places.loops.length],
		area: health.area,
		done: { ...newCommission("x").scan.mend, ...done },
	});
}

const RING = torus(24, 16, 40, 12);
const CUBE = meshFrom(box([0, 0, 0], [100, 100, 100]));
const words = (sound: Soundness): string => soundnessText(sound, (mm) => `${mm} mm`);

/** Without the triangles of those numbers. */
const without = ({ positions, triangles }: TriangleMesh, ...gone: number[]): TriangleMesh => ({
	positions,
	triangles: triangles.filter((_, i) => !gone.includes(Math.floor(i / 3))),
});

describe("whether a scan may be carved from", () => {
	it("is a plain yes for what is closed and faces outwards", () => {
		const sound = judge(RING);
		expect(sound).toMatchObject({ verdict: "sound", mending: {}, open: false, crowded: 0, more: 0 });
		expect(words(sound)).toBe("Sound to carve from: closed, facing outwards.");
	});

	it("of the open scan of the dragon: after the mending that it offers, and then yes", () => {
		const before = judge(dragonMesh(300));
		expect(before).toMatchObject({
			verdict: "mend",
			against: [],
			mending: { dropDoubled: true, keepLargestShell: true },
		});
		expect(words(before)).toContain("drop doubled triangles, keep the largest piece alone");
		const after = judge(dragonMesh(300), before.mending);
		expect(after).toMatchObject({ verdict: "sound", mending: {}, open: false, more: 0 });
		expect(after.crowded).toBeLessThan(0.01);
	});

	it("asks to close the gaps of a scanner, and takes a rim for an open shell", () => {
		const gap = without(RING, 7);
		const before = judge(gap);
		expect(before.verdict).toBe("mend");
		expect(judge(gap, before.mending)).toMatchObject({ verdict: "sound", open: false });
		const shell = judge(without(CUBE, 0, 1));
		expect(shell).toMatchObject({ verdict: "sound", open: true, mending: {} });
		expect(words(shell)).toContain("as an open shell");
	});

	it("turns what faces the wrong way, and is a no where that does not help", () => {
		const { positions, triangles } = RING;
		const turned = triangles.slice();
		[turned[0], turned[1]] = [turned[1], turned[0]];
		const before = judge({ positions, triangles: turned });
		expect(before).toMatchObject({ verdict: "mend", mending: { faceOutward: true } });
		expect(judge({ positions, triangles: turned }, before.mending).verdict).toBe("sound");
		expect(
			judgeSoundness({
				health: { ...finish(examine({ positions, triangles: turned })) },
				flipped: 1,
				pieces: [1],
				rims: [],
				area: 1,
				done: { ...newCommission("x").scan.mend, faceOutward: true },
			}),
		).toMatchObject({ verdict: "unsound", against: ["wrong way"] });
	});

	it("is a no where surfaces run into each other on much of it", () => {
		const { positions, triangles } = CUBE;
		// A wall inside the box, from edge to edge.
		const crowded = judge({ positions, triangles: new Uint32Array([...triangles, triangles[0], triangles[1], 7]) });
		expect(crowded.crowded).toBeGreaterThan(0.05);
		expect(crowded.verdict).toBe("unsound");
		expect(words(crowded)).toMatch(/^Not sound to carve from: .*run into each other/);
	});

	it("leaves pieces of some size to the carver", () => {
		const two = judge(meshFrom(together(box([0, 0, 0], [100, 100, 100]), box([200, 0, 0], [250, 50, 50]))));
		expect(two.mending.keepLargestShell).toBeUndefined();
		expect(words(two)).toContain("look whether");
	});
});
