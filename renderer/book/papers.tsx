/** Papers that go to a file or to the printer. */

import { printPdf, saveFile } from "../bridge.ts";

interface PaperActProps {
	readonly words: string;
	readonly ready: boolean;
	readonly main?: boolean;
	then(): void;
}

export function PaperAct({ words, ready, main = false, then }: PaperActProps) {
	return (
		<button type="button" class={main ? "act main" : "act"} disabled={!ready} onClick={then}>
			{words}
		</button>
	);
}

/** What is told when it is saved; nothing when the carver thought better of it. */
export async function savedPaper(
	name: string,
	bytes: Uint8Array<ArrayBuffer>,
	type = "application/pdf",
): Promise<string> {
	return (await saveFile(name, bytes, type)) === "saved" ? `Saved ${name}.` : "";
}

const PRINTED = {
	opened: "The browser's print dialogue opens; where it does not, save the PDF and print that.",
	printed: "Sent to the printer.",
	cancelled: "",
} as const;

export const printedPaper = async (pdf: Uint8Array<ArrayBuffer>): Promise<string> => PRINTED[await printPdf(pdf)];
