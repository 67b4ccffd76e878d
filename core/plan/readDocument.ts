/** Reading and writing documents: parse, version, upgrade step by step, validate; every refusal names its place. */

import type { z } from "zod";
import { Refusal } from "../refusal.ts";
import { type Commission, commissionSchema } from "./commission.ts";
import type { Plan } from "./planFile.ts";
import { type Readings, readingsSchema } from "./readings.ts";

export interface Kind<T> {
	readonly format: string;
	readonly version: number;
	readonly schema: z.ZodType<T>;
	/** upgrades[v] turns a document of version v into one of version v + 1. */
	readonly upgrades: Readonly<Record<number, (document: Record<string, unknown>) => Record<string, unknown>>>;
}

const COMMISSION: Kind<Commission> = {
	format: "puntello-commission",
	version: 1,
	schema: commissionSchema,
	upgrades: {},
};
const READINGS: Kind<Readings> = { format: "puntello-readings", version: 1, schema: readingsSchema, upgrades: {} };

/** A commission from the text of its file, with every default in place. */
export const readCommission = (text: string, name: string): Commission => readDocument(text, name, COMMISSION);

/** What a bench page gave back, from the text of its file. */
export const readReadings = (text: string, name: string): Readings => readDocument(text, name, READINGS);

/** The text of a document's file: one form for every holder, so that equal documents are equal files. */
export const documentText = (document: Commission | Plan | Readings): string =>
	`${JSON.stringify(document, null, "\t")}\n`;

/** A document of any kind from the text of its file, brought up to the kind's present version. */
export function readDocument<T>(text: string, name: string, kind: Kind<T>): T {
	let document: unknown;
	try {
		document = JSON.parse(text.charCodeAt(0) === 0xfeff ? text.slice(1) : text);
	} catch (error) {
		throw new Refusal("document.notJson", { name, found: error instanceof Error ? error.message : String(error) });
	}
	if (typeof document !== "object" || document === null || Array.isArray(document))
		throw new Refusal("document.format", {
			name,
			found: Array.isArray(document) ? "a list" : typeof document,
			expected: kind.format,
		});
	let current = document as Record<string, unknown>;
	if (current.format !== kind.format)
		throw new Refusal("document.format", { name, found: String(current.format ?? "no format"), expected: kind.format });
	const version = current.version;
	if (typeof version !== "number" || !Number.isInteger(version) || version < 1)
		throw new Refusal("document.version", { name, found: String(version), expected: kind.version });
	if (version > kind.version) throw new Refusal("document.newer", { name, found: version, expected: kind.version });
	for (let v = version; v < kind.version; v++) current = kind.upgrades[v](current);
	const parsed = kind.schema.safeParse(current);
	if (parsed.success) return parsed.data;
	const issue = parsed.error.issues[0];
	const path = issue.path
		.map((step) => (typeof step === "number" ? `[${step}]` : `.${String(step)}`))
		.join("")
		.replace(/^\./, "");
	if (issue.code === "unrecognized_keys")
		throw new Refusal("document.unknownKey", { name, path: path === "" ? issue.keys[0] : `${path}.${issue.keys[0]}` });
	throw new Refusal("document.value", { name, path: path === "" ? "(whole)" : path, expected: issue.message });
}
