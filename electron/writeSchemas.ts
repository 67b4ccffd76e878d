/** `npm run schemas`: the JSON Schema files of the documents, made from the zod schemas that the program itself uses. */

import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { jsonSchemas } from "../core/plan/jsonSchemas.ts";

for (const [file, text] of Object.entries(jsonSchemas()))
	writeFileSync(fileURLToPath(new URL(`../core/plan/${file}`, import.meta.url)), text);
