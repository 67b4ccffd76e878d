/** Sentences for what the system refuses (files, printing) and for a command line that cannot be followed. */

import type { Facts } from "./refusals.ts";

const at = (facts: Facts): string => String(facts.path);

export const filesRefusals: Record<string, (facts: Facts) => string> = {
	"files.full": (f) =>
		`${at(f)} could not be written: the disk is full. Nothing that was there has been touched; make room and try again.`,
	"files.denied": (f) =>
		`${at(f)} could not be ${f.doing === "read" ? "read" : "written"}: permission denied. Change the permissions of the file or its folder, or choose another place.`,
	"files.missing": (f) => `${at(f)} was not found. Check the name, or open the file from where it lies now.`,
	"files.folder": (f) => `${at(f)} is a folder, where a file was expected. Name a file inside it.`,
	"files.notFolder": (f) => `${at(f)} is a file, where a folder was expected. Name another folder.`,
	"files.busy": (f) => `${at(f)} is in use by another program. Close it there and try again.`,
	"files.failed": (f) =>
		`${at(f)} could not be ${f.doing === "read" ? "read" : "written"}: the system answered ${String(f.reason)}. Try again, or choose another place.`,
	"files.noCommission": (f) =>
		`No commission is kept under ${String(f.id)} any more. Open it from its own file, or start a new one from the scan.`,
	"files.changedMeanwhile": (f) =>
		`${String(f.name)} has been changed by another window or program since it was opened here, and is left as it is. What stands here is kept as a commission of its own.`,
	"files.notACommission": (f) =>
		`This is not a commission: ${String(f.found)}. A commission is JSON whose "format" is "puntello-commission".`,
	"open.unknown": (f) =>
		`${String(f.argument)} is neither a file here nor a demo. Give a scan (.stl, .ply), a commission (.commission.json) or one of: ${String(f.demos)}.`,
	"print.failed": (f) =>
		`The system could not print: ${String(f.reason)}. Save the sheet as a PDF instead and print it from another program.`,
	"command.verb": (f) =>
		`There is no verb "${f.found}"; expected one of ${(f.expected as readonly string[]).join(", ")}. See --help.`,
	"command.option": (f) => `${f.option}: found "${f.found}"; expected ${f.expected}. See --help.`,
	"command.missing": (f) => `${f.verb} needs ${f.what}. See --help.`,
	"command.tooMany": (f) => `${f.verb}: "${f.found}" is one argument too many. See --help.`,
	"command.either": (f) => `${f.one} and ${f.other} exclude each other. Give one of them.`,
	"command.words": (f) => `${f.reason}. See --help.`,
	"command.demo": (f) =>
		`There is no demo "${f.found}"; expected one of ${(f.expected as readonly string[]).join(", ")}.`,
};
