import { expect, it } from "vitest";
import type { OpenedScan } from "../../core/plan/answers.ts";
import { rotationFromQuaternion, turn, type Vec3 } from "../../core/vector.ts";
import { commissionFor } from "../../electron/verbs/planWhole.ts";

const scan = { name: "owl of the gate.stl", sha256: "" } as OpenedScan;
const taking = { unit: undefined, scale: undefined, mirrored: false };

it.each([
	["x", [1, 0, 0]],
	["-x", [-1, 0, 0]],
	["y", [0, 1, 0]],
	["-y", [0, -1, 0]],
	["z", [0, 0, 1]],
	["-z", [0, 0, -1]],
] as [string, Vec3][])("--up %s stands that axis of the scan up", (up, axis) => {
	const { model, name } = commissionFor(scan, null, taking, { up });
	const stood = turn(rotationFromQuaternion(model.stance), axis);
	expect(stood.map((c) => Math.round(c * 1e9) / 1e9 + 0)).toEqual([0, 0, 1]);
	expect(name).toBe("owl of the gate");
});
