import { MessageChannel } from "node:worker_threads";
import { afterEach, describe, expect, it } from "vitest";
import type { Job } from "../../core/job.ts";
import { Refusal } from "../../core/refusal.ts";
import { Cancelled, createJobClient, JobFailed } from "../../renderer/jobs/jobClient.ts";
import { type Handed, serveJobs, type TellPart } from "../../renderer/jobs/jobServer.ts";
import type { Port } from "../../renderer/jobs/protocol.ts";

type Table = {
	sum: { input: { upTo: number }; part: { half: number }; output: { sum: number; values: Float64Array } };
	endless: { input: Record<string, never>; output: never };
	refused: { input: { name: string }; output: never };
	broken: { input: Record<string, never>; output: never };
};

let released = 0;
let stepsOfEndless = 0;

const makers = {
	*sum({ upTo }: { upTo: number }, tell: TellPart<Table["sum"]["part"]>): Job<Handed<Table["sum"]["output"]>> {
		const values = new Float64Array(upTo);
		let sum = 0;
		for (let i = 0; i < upTo; i++) {
			sum += i;
			values[i] = sum;
			if (i === upTo >> 1) tell({ half: sum }, []);
			if (i % 1000 === 0) yield { stage: "adding", share: i / upTo };
		}
		return { output: { sum, values }, transfer: [values.buffer] };
	},
	*endless(): Job<Handed<never>> {
		try {
			for (;;) {
				const until = performance.now() + 2;
				while (performance.now() < until);
				stepsOfEndless++;
				yield { stage: "going on", share: 0.5 };
			}
		} finally {
			released++;
		}
	},
	*refused({ name }: { name: string }): Job<Handed<never>> {
		throw new Refusal("scan.empty", { name });
	},
	*broken(): Job<Handed<never>> {
		yield { stage: "about to break", share: 0 };
		throw new TypeError("a defect");
	},
};

const until = async (met: () => boolean): Promise<void> => {
	while (!met()) await new Promise((then) => setTimeout(then, 5));
};

const open: { close(): void }[] = [];
afterEach(() => {
	for (const one of open.splice(0)) one.close();
});

/** Client and server joined by a real channel, as window and worker are. */
function joined() {
	const { port1, port2 } = new MessageChannel();
	open.push(port1, port2);
	serveJobs<Table>(port2 as unknown as Port, makers, (then) => setImmediate(then));
	return createJobClient<Table>(port1 as unknown as Port);
}

describe("jobs", () => {
	it("answers with the output and its progress, which never falls", async () => {
		const shares: number[] = [];
		const { sum, values } = await joined().run("sum", { upTo: 200_000 }, ({ share }) => shares.push(share)).promise;
		expect(sum).toBe((200_000 * 199_999) / 2);
		expect(values).toHaveLength(200_000);
		expect([...shares].sort((a, b) => a - b)).toEqual(shares);
	});

	it("tells a part of the answer before all of it", async () => {
		const heard: unknown[] = [];
		const { promise } = joined().run("sum", { upTo: 10 }, undefined, (part) => heard.push(part));
		await promise.then(() => heard.push("done"));
		expect(heard).toEqual([{ half: 15 }, "done"]);
	});

	it("runs two jobs side by side", async () => {
		const client = joined();
		const endless = client.run("endless", {});
		endless.promise.catch(() => {});
		await expect(client.run("sum", { upTo: 5000 }).promise).resolves.toMatchObject({ sum: (5000 * 4999) / 2 });
		const before = released;
		endless.cancel();
		await until(() => released > before);
	});

	it("cancels at once here, stops there, and may be cancelled again", async () => {
		const client = joined();
		const before = released;
		const endless = client.run("endless", {});
		await new Promise((then) => setTimeout(then, 30));
		const rejected = expect(endless.promise).rejects.toBeInstanceOf(Cancelled);
		endless.cancel();
		await rejected;
		endless.cancel();
		await until(() => released > before);
		const steps = stepsOfEndless;
		await new Promise((then) => setTimeout(then, 30));
		expect(stepsOfEndless).toBe(steps);
	});

	it("says a refusal as data and a defect as a defect", async () => {
		const client = joined();
		const refused = await client.run("refused", { name: "owl.stl" }).promise.catch((e: unknown) => e);
		expect(refused).toBeInstanceOf(JobFailed);
		expect((refused as JobFailed).issue).toEqual({ code: "scan.empty", facts: { name: "owl.stl" } });
		const broken = await client.run("broken", {}).promise.catch((e: unknown) => e);
		expect((broken as JobFailed).issue).toBeNull();
		expect((broken as JobFailed).message).toBe("a defect");
	});

	it("fails everything still running when its worker has died", async () => {
		const client = joined();
		const endless = client.run("endless", {});
		const rejected = expect(endless.promise).rejects.toThrow("gone");
		client.abandon("gone");
		await rejected;
		endless.cancel();
	});
});
