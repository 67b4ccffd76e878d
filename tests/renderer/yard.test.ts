import { readFileSync } from "node:fs";
import { MessageChannel } from "node:worker_threads";
import { afterEach, describe, expect, it } from "vitest";
import { finish } from "../../core/job.ts";
import { newCommission } from "../../core/plan/commission.ts";
import { optionsOf } from "../../core/plan/stages/stoneStages.ts";
import { listedBlock, rankedYard } from "../../core/plan/yard.ts";
import { memorySource } from "../../core/scan/source.ts";
import { writeBinaryStl } from "../../core/scan/writeScan.ts";
import { fitBlock } from "../../core/stone/fitBlock.ts";
import { convexHull } from "../../core/stone/hull.ts";
import type { Vec3 } from "../../core/vector.ts";
import { Cancelled, createJobClient } from "../../renderer/jobs/jobClient.ts";
import { serveJobs } from "../../renderer/jobs/jobServer.ts";
import type { Port } from "../../renderer/jobs/protocol.ts";
import { checkYard, type Hand, type YardFound } from "../../renderer/jobs/yardCrew.ts";
import { type YardJobs, type YardStone, yardJobs } from "../../renderer/jobs/yardJobs.ts";
import { eggMesh } from "./egg.ts";

/** The window's yard over real stones and the real search, with message ports in place of workers. */

const mesh = eggMesh(24);
const held = finish(convexHull(mesh.positions));
const commission = newCommission("egg.stl");
/** With a block of its own and no margin asked for. */
const placedFree = {
	...commission,
	stone: { ...commission.stone, block_mm: [400, 400, 400] as [number, number, number] },
};
const figure = { mesh, held, options: optionsOf(placedFree) };

const files = new Map([
	["large.stl", writeBinaryStl({ ...eggMesh(30), positions: eggMesh(30).positions.map((x) => 1.2 * x) })],
	["box.stl", new Uint8Array(readFileSync(new URL("../../fixtures/box.stl", import.meta.url)))],
]);

const scanOf = (name: string): YardStone => ({
	kind: "scan",
	handle: { kind: "grant", token: "", name, size: 0 },
	unit: "mm",
});
const block = (...sides: [number, number, number]): YardStone => {
	const name = sides.join(" × ");
	return { kind: "described", name, stone: listedBlock({ name, sides }) };
};

const open: { close(): void }[] = [];
afterEach(() => {
	for (const one of open.splice(0)) one.close();
});

function hand(closed: () => void = () => {}): Hand {
	const { port1, port2 } = new MessageChannel();
	open.push(port1, port2);
	const source = (handle: Parameters<Parameters<typeof yardJobs>[0]>[0]) =>
		memorySource(files.get(handle.kind === "grant" ? handle.name : "") as Uint8Array);
	serveJobs<YardJobs>(port2 as unknown as Port, yardJobs(source), (then) => setImmediate(then));
	return {
		jobs: createJobClient<YardJobs>(port1 as unknown as Port),
		close() {
			closed();
			port1.close();
		},
	};
}

describe("the yard of the window", () => {
	const stones = [
		block(400, 400, 400),
		block(210, 190, 340),
		scanOf("large.stl"),
		block(150, 400, 400),
		{ kind: "described", name: "nothing", stone: commission.stone } as const,
		scanOf("box.stl"),
	];

	it("finds of every stone what the search alone finds, whichever worker had it, and tells how far it is", async () => {
		const found = new Map<number, YardFound>();
		const shares: number[] = [];
		let closed = 0;
		const crew = [hand(() => closed++), hand(() => closed++)];
		const heard = (index: number, one: YardFound): void => void found.set(index, one);
		await checkYard(stones, figure, crew, heard, ({ share }) => shares.push(share)).promise;
		expect(closed).toBe(2);
		expect([...found.keys()].sort()).toEqual([0, 1, 2, 3, 4, 5]);
		for (const [i, stone] of stones.entries()) {
			if (stone.kind !== "described" || stone.stone.block_mm === null) continue;
			const alone = finish(fitBlock(held, stone.stone.block_mm as Vec3, figure.options));
			expect(found.get(i)?.fit).toMatchObject({ spare: alone.spare, bound: alone.bound, fits: alone.fits });
		}
		// The figure itself, a fifth larger, around the figure: convex nowhere, so the placement is searched.
		expect(found.get(2)?.fit).toMatchObject({ fits: true, searched: true });
		expect(found.get(4)?.trouble?.issue?.code).toBe("stone.nothingGiven");
		expect([...shares].sort((a, b) => a - b)).toEqual(shares);
		expect(shares.at(-1)).toBe(1);

		const rows = stones.map((stone, i) => ({ stone, fit: found.get(i)?.fit ?? null }));
		const order = rankedYard(rows, ({ fit }) => fit).map(({ stone }) => stones.indexOf(stone));
		expect(order).toEqual([2, 1, 0, 3, 5, 4]);
	});

	it("stops at once, closes its workers and hears nothing more", async () => {
		let closed = 0;
		let heard = 0;
		const crew = [hand(() => closed++), hand(() => closed++)];
		const many = Array.from({ length: 30 }, (_, i) => block(200 + i, 190 + i, 340 + i));
		const running = checkYard(
			many,
			figure,
			crew,
			() => {
				heard++;
				if (heard === 2) running.cancel();
			},
			() => {},
		);
		await expect(running.promise).rejects.toBeInstanceOf(Cancelled);
		expect(closed).toBe(2);
		await new Promise((then) => setTimeout(then, 50));
		expect(heard).toBe(2);
		running.cancel();
	});
});
