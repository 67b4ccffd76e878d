/** Files that the carver gives to the window, by a button or dropped on it: scans, commissions, readings from the bench. */

import type { Commission } from "../../core/plan/commission.ts";
import { documentText } from "../../core/plan/readDocument.ts";
import { fileName } from "../book/fileName.ts";
import { saveFile } from "../bridge.ts";
import { takeReadings } from "./log.ts";
import type { Session } from "./session.ts";
import { troubleWords } from "./troubleWords.ts";
import { page, setTrouble } from "./ui.ts";

/** Documents are far smaller; a larger file is none, and is not read into memory to find that out. */
const LARGEST_DOCUMENT = 64 * 1024 * 1024;

const isDocument = (name: string): boolean => /\.(json|commission)$/i.test(name);

/** Opens a scan or a commission, or takes readings in. What cannot be used is said where files are opened. */
export async function takeFile(session: Session, file: File): Promise<void> {
	if (!isDocument(file.name)) return session.openScan({ kind: "file", file });
	if (file.size > LARGEST_DOCUMENT) {
		setTrouble(
			"scan",
			`${file.name} is ${Math.round(file.size / 1e6)} MB, too large for a commission or for readings.`,
		);
		return;
	}
	const text = await file.text();
	if (/"format"\s*:\s*"puntello-readings"/.test(text.slice(0, 400))) {
		page.value = "bench";
		try {
			setTrouble("bench", takeReadings(session, text, file.name));
		} catch (trouble) {
			setTrouble("bench", troubleWords(trouble));
		}
		return;
	}
	await session.openDocument(text);
}

/** Writes the commission as a file of its own; work goes on in the kept one. */
export async function saveAs(commission: Commission): Promise<string> {
	const name = fileName(commission.name, ".commission.json");
	const bytes = new TextEncoder().encode(documentText(commission)) as Uint8Array<ArrayBuffer>;
	return (await saveFile(name, bytes, "application/json")) === "saved" ? `Saved ${name}.` : "";
}
