import { describe, expect, it } from "vitest";
import { finish, type Job } from "../../../core/job.ts";
import { choice, createGraph } from "../../../core/plan/graph.ts";

describe("graph of stages", () => {
	it("works a stage out anew only when an input has changed", () => {
		const graph = createGraph();
		const scan = { name: "scan" };
		function* work(smallestForm: number, stop: number): Job<string> {
			const field = yield* graph.stage("field", [scan, smallestForm], function* () {
				return { smallestForm };
			});
			const lines = yield* graph.stage("lines", [field, choice({ stop })], function* () {
				return { text: `${field.smallestForm} ${stop}` };
			});
			return lines.text;
		}
		expect(finish(work(3, 2))).toBe("3 2");
		expect(graph.ran()).toEqual(["field", "lines"]);
		expect(finish(work(3, 2))).toBe("3 2");
		expect(graph.ran()).toEqual([]);
		expect(finish(work(3, 1))).toBe("3 1");
		expect(graph.ran()).toEqual(["lines"]);
		expect(finish(work(2, 1))).toBe("2 1");
		expect(graph.ran()).toEqual(["field", "lines"]);
	});

	it("keeps the last whole value when a stage is cancelled", () => {
		const graph = createGraph();
		function* slow(to: number): Job<number> {
			return yield* graph.stage("slow", [to], function* () {
				for (let i = 0; i < to; i++) yield { stage: "counting", share: i / to };
				return to;
			});
		}
		expect(finish(slow(3))).toBe(3);
		const cancelled = slow(5);
		cancelled.next();
		cancelled.return(0);
		graph.ran();
		expect(finish(slow(3))).toBe(3);
		expect(graph.ran()).toEqual([]);
	});
});
