/** Deeds of a card that take a while: what comes of one is told beside its buttons, what goes wrong among the card's messages. */

import { useSignal } from "@preact/signals";
import { troubleWords } from "../state/troubleWords.ts";
import { setTrouble } from "../state/ui.ts";

/** `place`: where messages about the card are shown. `tell` runs a deed that answers what came of it, or nothing. */
export function useTold(place: string) {
	const told = useSignal("");
	const tell = async (deed: () => string | Promise<string>): Promise<void> => {
		setTrouble(place, null);
		told.value = "";
		try {
			told.value = await deed();
		} catch (trouble) {
			setTrouble(place, troubleWords(trouble));
		}
	};
	return { told, tell };
}

export function News({ words }: { words: string }) {
	if (words === "") return null;
	return (
		<p class="news" role="status">
			{words}
		</p>
	);
}
