import { signal } from "@preact/signals";
import { expect, it } from "vitest";
import { movedOf } from "../../renderer/state/moved.ts";
import type { Session } from "../../renderer/state/session.ts";

it("asks whether anything has moved when the log or the plan changes, and for no other change", async () => {
	const reading = { kind: "reading", point: 3, over_mm: 1.5 };
	const commission = signal({ name: "owl", log: [] as unknown[] });
	const plan = signal<unknown>({});
	const asked: ((answer: unknown) => void)[] = [];
	const askMoved = () => ({
		// What is asked goes out with the commission as it stands.
		promise: new Promise((answer) => commission.value && asked.push(answer)),
	});
	const moved = movedOf({ commission, plan, askMoved } as unknown as Session);
	expect(asked).toHaveLength(0);
	commission.value = { name: "owl", log: [reading] };
	expect(asked).toHaveLength(1);
	commission.value = { name: "barn owl", log: [{ ...reading }] };
	expect(asked).toHaveLength(1);
	asked[0]("nothing moved");
	await Promise.resolve();
	expect(moved.value).toBe("nothing moved");

	plan.value = {};
	commission.value = { name: "barn owl", log: [reading, { ...reading, point: 4 }] };
	expect(asked).toHaveLength(3);
	// The answer to what was asked of the earlier log comes too late.
	asked[1]("seat A moved");
	await Promise.resolve();
	expect(moved.value).toBe("nothing moved");
	commission.value = { name: "barn owl", log: [] };
	expect(moved.value).toBeNull();
});
