/** The documents' JSON Schemas (draft 2020-12), as texts by file name. */

import { z } from "zod";
import { commissionSchema } from "./commission.ts";
import { planSchema } from "./planFile.ts";
import { readingsSchema } from "./readings.ts";

export function jsonSchemas(): Readonly<Record<string, string>> {
	const text = (schema: z.ZodType, title: string): string =>
		`${JSON.stringify({ title, ...z.toJSONSchema(schema, { io: "input" }) }, null, "\t")}\n`;
	return {
		"commission.schema.json": text(commissionSchema, "Puntello commission, version 1"),
		"readings.schema.json": text(readingsSchema, "Puntello readings, version 1"),
		"plan.schema.json": text(planSchema, "Puntello plan, version 1"),
	};
}
