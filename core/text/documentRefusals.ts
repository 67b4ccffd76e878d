/** Sentences for refused documents. */

import type { Sentences } from "./refusals.ts";

export const documentRefusals: Sentences = {
	"document.notJson": (f) =>
		`${f.name} is not a readable document: ${f.found}; expected JSON text. Take the last good copy of the file.`,
	"document.format": (f) => `${f.name} is no ${f.expected} document: found ${f.found}. Choose another file.`,
	"document.version": (f) =>
		`${f.name} carries the version ${f.found}; expected a whole number up to ${f.expected}. Take the last good copy of the file.`,
	"document.newer": (f) =>
		`${f.name} was made by a newer Puntello: version ${f.found}, this one reads up to ${f.expected}. Update Puntello, the file is unharmed.`,
	"document.unknownKey": (f) =>
		`${f.name} has a key that is not known: ${f.path}. Correct its spelling or take it out; nothing was changed.`,
	"document.value": (f) => `${f.name}, ${f.path}: ${f.expected}. Correct the value; nothing was changed.`,
};
