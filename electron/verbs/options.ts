/** Options of the verbs, read strictly: an option that is not known or not understood is refused, never guessed. */

import { parseArgs } from "node:util";
import { Refusal } from "../../core/refusal.ts";
import { UNITS, type Unit } from "../../core/scan/unit.ts";
import { parseLength, parseSides } from "../../core/text/format.ts";
import type { Vec3 } from "../../core/vector.ts";

type Kind = "text" | "flag";
export type Values = Readonly<Record<string, string | boolean | undefined>>;

/** Parses `argv`; the verb takes at most `most` plain arguments and, where `what` is given, needs the first of them. */
export function readOptions(
	verb: string,
	argv: readonly string[],
	kinds: Readonly<Record<string, Kind>>,
	{ most = 1, what }: { most?: number; what?: string } = {},
): { values: Values; plain: readonly string[] } {
	const options = Object.fromEntries(
		Object.entries({ ...kinds, json: "flag" }).map(([name, kind]) => [
			name,
			{ type: kind === "flag" ? ("boolean" as const) : ("string" as const) },
		]),
	);
	let parsed: { values: Values; positionals: string[] };
	try {
		parsed = parseArgs({ args: [...argv], options, allowPositionals: true, strict: true });
	} catch (error) {
		if (!(error instanceof TypeError)) throw error;
		// Node's own words name the option; they may run on into advice that does not fit here.
		throw new Refusal("command.words", { reason: error.message.split(/\.\s|\n/, 1)[0].replace(/\.$/, "") });
	}
	const { values, positionals: plain } = parsed;
	if (plain.length > most) throw new Refusal("command.tooMany", { verb, found: plain[most] });
	if (what !== undefined && plain.length === 0) throw new Refusal("command.missing", { verb, what });
	return { values, plain };
}

const refused = (option: string, found: string, expected: string): Refusal =>
	new Refusal("command.option", { option: `--${option}`, found, expected });

const textOf = (values: Values, option: string): string | undefined => {
	const value = values[option];
	return typeof value === "string" ? value : undefined;
};

/** A number over `least` (or equal to it where `orEqual`), or undefined where the option is not given. */
export function numberOption(
	values: Values,
	option: string,
	{ least = 0, orEqual = false, whole = false, most = Number.POSITIVE_INFINITY } = {},
): number | undefined {
	const text = textOf(values, option);
	if (text === undefined) return undefined;
	const value = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text.trim()) ? Number(text) : Number.NaN;
	const good =
		Number.isFinite(value) &&
		value <= most &&
		(orEqual ? value >= least : value > least) &&
		(!whole || Number.isInteger(value));
	if (!good)
		throw refused(
			option,
			text,
			`a ${whole ? "whole " : ""}number ${orEqual ? `from ${least}` : `over ${least}`}${most < Number.POSITIVE_INFINITY ? ` to ${most}` : ""}`,
		);
	return value;
}

/** A length in mm, or with its unit. */
export function lengthOption(values: Values, option: string): number | undefined {
	const text = textOf(values, option);
	if (text === undefined) return undefined;
	const mm = parseLength(text);
	if (mm === null || mm < 0) throw refused(option, text, 'a length in mm, or with its unit ("25", "1 in")');
	return mm;
}

/** Length × width × height of a block, mm. */
export function sidesOption(values: Values, option: string): Vec3 | undefined {
	const text = textOf(values, option);
	if (text === undefined) return undefined;
	const sides = parseSides(text);
	if (!sides)
		throw refused(option, text, 'length, width and height, in mm or with a unit ("240x220x460", "24x22x46cm")');
	return sides;
}

export function choiceOption<T extends string>(values: Values, option: string, choices: readonly T[]): T | undefined {
	const text = textOf(values, option);
	if (text === undefined) return undefined;
	const choice = choices.find((one) => one === text);
	if (choice === undefined) throw refused(option, text, `one of ${choices.join(", ")}`);
	return choice;
}

export const plainOption = textOf;

/** Options that say how a scan is to be taken: in which unit, at which size, which way round. */
export const SCAN_OPTIONS = { unit: "text", scale: "text", mirror: "flag" } as const;

export interface Taking {
	readonly unit: Unit | undefined;
	/** Stone ÷ scan. */
	readonly scale: number | undefined;
	readonly mirrored: boolean;
}

export const takingOf = (values: Values): Taking => ({
	unit: choiceOption(values, "unit", UNITS),
	scale: numberOption(values, "scale"),
	mirrored: values.mirror === true,
});
