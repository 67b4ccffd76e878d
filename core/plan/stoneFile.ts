/**
 * A stone in the yard as a small JSON file: `puntello-stone` with its sides and breaks, its 24 tape readings or its faces;
 * a bare list of faces [nx, ny, nz, b] with stone where n · x ≤ b; or a commission, whose stone is taken.
 */

import { z } from "zod";
import { Refusal } from "../refusal.ts";
import { stoneSchema } from "./commission/stone.ts";
import { type Commission, commissionSchema } from "./commission.ts";

const whole = stoneSchema.unwrap();

const stoneFileSchema = z
	.strictObject({
		format: z.literal("puntello-stone").optional(),
		version: z.literal(1).optional(),
		name: z.string().max(120).optional(),
		block_mm: whole.shape.block_mm,
		breaks: whole.shape.breaks,
		measured_mm: whole.shape.measured_mm,
		planes: whole.shape.planes,
	})
	.refine(
		({ block_mm, measured_mm, planes }) => [block_mm, measured_mm, planes].filter((way) => way !== null).length === 1,
		{ message: "one of block_mm, measured_mm and planes" },
	);

/** The stone of such a file, everything else as in a new commission. */
export function readStoneFile(text: string, name: string): Commission["stone"] {
	let found: unknown;
	try {
		found = JSON.parse(text.charCodeAt(0) === 0xfeff ? text.slice(1) : text);
	} catch (error) {
		throw new Refusal("document.notJson", { name, found: error instanceof Error ? error.message : String(error) });
	}
	if (typeof found === "object" && found !== null && "format" in found && found.format === "puntello-commission") {
		const commission = commissionSchema.safeParse(found);
		if (!commission.success) throw refused(commission.error, name);
		return commission.data.stone;
	}
	const parsed = stoneFileSchema.safeParse(Array.isArray(found) ? { planes: found } : found);
	if (!parsed.success) throw refused(parsed.error, name);
	const { block_mm, breaks, measured_mm, planes } = parsed.data;
	const given = planes ? "planes" : measured_mm ? "measured" : "sides";
	return { ...stoneSchema.parse({}), given, block_mm, breaks, measured_mm, planes };
}

function refused({ issues: [issue] }: z.ZodError, name: string): Refusal {
	const path = issue.path.map((step) => (typeof step === "number" ? `[${step}]` : `.${String(step)}`)).join("");
	if (issue.code === "unrecognized_keys")
		return new Refusal("document.unknownKey", { name, path: `${path}.${issue.keys[0]}`.replace(/^\./, "") });
	return new Refusal("document.value", { name, path: path.replace(/^\./, "") || "(whole)", expected: issue.message });
}
