import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { finish, type Job } from "../../core/job.ts";
import { type Commission, newCommission } from "../../core/plan/commission.ts";
import { memorySource } from "../../core/scan/source.ts";
import { writeBinaryStl } from "../../core/scan/writeScan.ts";
import { jobCatalogue } from "../../renderer/jobs/catalogue.ts";
import type { Handed } from "../../renderer/jobs/jobServer.ts";
import type { Fresh } from "../../renderer/jobs/ledger.ts";
import type {
	AnswerShown,
	AnswersShown,
	MapsShown,
	ScanShown,
	SheetsOutput,
	StoodUp,
} from "../../renderer/jobs/shown.ts";
import { sheetFonts } from "../support/sheetFonts.ts";
import { eggMesh } from "./egg.ts";

/** The worker's jobs over real scans and the real planner, without the worker. */

const egg = writeBinaryStl(eggMesh(9));
const box = new Uint8Array(readFileSync(new URL("../../fixtures/box.stl", import.meta.url)));

function bench() {
	const files = new Map([
		["egg.stl", egg],
		["box.stl", box],
		["cut.stl", egg.subarray(0, 500)],
	]);
	const makers = jobCatalogue({
		fonts: sheetFonts,
		source: (handle) => memorySource(files.get(handle.kind === "grant" ? handle.name : "") as Uint8Array),
	});
	const run = <T>(job: Job<Handed<T>>): T => finish(job).output;
	const untold = (): void => {};
	/** As the window holds what it is handed. */
	const holds: Record<string, number> = {};
	const held = <T>(name: string, fresh: Fresh<T>): T | null => {
		if (fresh) holds[name] = fresh.stamp;
		return fresh ? fresh.value : null;
	};
	const answers: Partial<AnswersShown> = {};
	return {
		holds,
		open: (name: string): ScanShown =>
			run(makers.openScan({ handle: { kind: "grant", token: "", name, size: 0 } }, untold)),
		standUp: (c: Commission): StoodUp | null => held("mesh", run(makers.standUp({ commission: c, holds }, untold))),
		/** All answers as they stand then, and what of them and of the maps was handed over for it. */
		work(c: Commission) {
			const fresh: string[] = [];
			const maps: Partial<MapsShown> = {};
			const told: AnswerShown[] = [];
			run(
				makers.work({ commission: c, holds: { ...holds } }, (part) => {
					told.push(part);
					for (const [name, one] of part.fresh) {
						const value = held(name, one);
						if (!value) continue;
						fresh.push(name);
						Object.assign(answers, value.answers);
						Object.assign(maps, value.maps);
					}
				}),
			);
			return { answers, fresh, maps, waits: told.flatMap(({ waits }) => waits) };
		},
		stillStanding: (c: Commission) => run(makers.stillStanding({ commission: c, holds }, untold)),
		sheets: (c: Commission): SheetsOutput => run(makers.sheets({ commission: c }, untold)),
		section: (c: Commission, number: number): string => run(makers.section({ commission: c, number }, untold)).svg,
	};
}

const on = (scan: ScanShown, scale = 1) => {
	const plain = newCommission(scan.name);
	return {
		...plain,
		scan: { ...plain.scan, sha256: scan.sha256 },
		model: { ...plain.model, scale },
		rounds: plain.rounds.slice(0, 2),
	};
};

describe("the worker's jobs", () => {
	it("open a scan, stand it up, plan it and draw its sheets", () => {
		const b = bench();
		const scan = b.open("egg.stl");
		expect(scan.health.closed).toBe(true);
		const commission = on(scan);
		const mesh = b.standUp(commission)?.mesh;
		expect(mesh?.positions).toHaveLength(3 * scan.health.weldedVertices);
		expect(mesh?.normals).toHaveLength(3 * scan.health.weldedVertices);
		const { answers, maps, waits } = b.work(commission);
		expect(waits).toEqual([]);
		expect(answers.plan?.points.length).toBeGreaterThan(20);
		expect(maps?.k1).toHaveLength(scan.health.weldedVertices);
		expect(maps?.covers).toHaveLength(2);
		const hole = answers.plan?.points.find((point) => !point.undercut);
		expect(b.section(commission, hole?.number ?? 0)).toContain(`>Point ${hole?.number}<`);
		expect(() => b.section(commission, 9999)).toThrow("drilling.noHole");
		const sheets = b.sheets(commission);
		expect(new TextDecoder().decode(sheets.pdf.subarray(0, 5))).toBe("%PDF-");
		expect(JSON.parse(sheets.json).points).toHaveLength(answers.plan?.points.length as number);
	});

	it("hand over what has changed, and nothing twice", () => {
		const b = bench();
		const commission = on(b.open("egg.stl"));
		expect(b.standUp(commission)?.mesh).toBeDefined();
		expect(b.standUp({ ...commission, seatError_mm: 0.7 })).toBeNull();
		const first = b.work(commission).fresh;
		expect(first).toContain("stone");
		expect(first.indexOf("stone")).toBeLessThan(first.indexOf("plan"));
		expect(b.work({ ...commission, name: "another name" }).fresh).toEqual(["finish", "plan"]);
		const changed = { ...commission, name: "another name", seatError_mm: 0.7 };
		expect(b.stillStanding(changed)).toContain("stone");
		expect(b.stillStanding(changed)).not.toContain("plan");
		const again = b.work(changed);
		expect(again.fresh).toEqual(["datumSets", "seatError", "finish", "plan"]);
		expect(Object.keys(again.maps)).toEqual(["seatError"]);
		expect(b.standUp({ ...commission, model: { ...commission.model, scale: 2 } })?.mesh).toBeDefined();
	});

	it("hand over once more what never came to the window", () => {
		const b = bench();
		const commission = on(b.open("egg.stl"));
		expect(b.standUp(commission)).not.toBeNull();
		b.work(commission);
		delete b.holds.stone;
		delete b.holds.mesh;
		expect(b.stillStanding(commission)).not.toContain("stone");
		expect(b.standUp(commission)).not.toBeNull();
		expect(b.work(commission).fresh).toEqual(["stone"]);
	});

	it("send vertices in the planner's own order, so that maps fit the mesh", () => {
		const b = bench();
		const commission = on(b.open("egg.stl"), 1.25);
		const mesh = b.standUp(commission)?.mesh;
		const { answers } = b.work(commission);
		const positions = mesh?.positions as Float32Array;
		const extent = [0, 1, 2].map((k) => {
			let low = Number.POSITIVE_INFINITY;
			let high = Number.NEGATIVE_INFINITY;
			for (let i = k; i < positions.length; i += 3) {
				low = Math.min(low, positions[i]);
				high = Math.max(high, positions[i]);
			}
			return high - low;
		});
		answers.model?.size.forEach((size, k) => {
			expect(extent[k]).toBeCloseTo(size, 3);
		});
	});

	it("leave the scan before in place when the next is refused, or was given up", () => {
		const b = bench();
		const first = on(b.open("egg.stl"));
		const before = b.work(first).answers.plan?.code;
		expect(() => b.open("cut.stl")).toThrow(/stl\.truncated/);
		expect(b.work(first).answers.plan?.code).toBe(before);
		b.open("box.stl");
		// The window had cancelled that opening and goes on with its own scan.
		expect(b.work(first).answers.plan?.code).toBe(before);
		const other = { ...first, scan: { ...first.scan, sha256: "00".repeat(32) } };
		expect(() => b.work(other)).toThrow(/not open/);
	});
});
