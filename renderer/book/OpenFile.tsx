import { useRef } from "preact/hooks";
import { call, inShell } from "../bridge.ts";
import { useSession } from "../state/context.ts";
import { takeFile } from "../state/files.ts";
import { troubleWords } from "../state/troubleWords.ts";

/** Opens a scan or a commission: by the system's dialogue under the shell, by the browser's own in a browser. */
export function OpenFile({ words, main = false }: { words: string; main?: boolean }) {
	const session = useSession();
	const input = useRef<HTMLInputElement>(null);
	const ask = async (): Promise<void> => {
		if (!inShell()) {
			input.current?.click();
			return;
		}
		try {
			const chosen = await call("chooseFile", {});
			if (chosen?.kind === "scan") await session.openScan({ kind: "grant", ...chosen.grant });
			else if (chosen?.kind === "commission") await session.openDocument(chosen.text, chosen);
		} catch (trouble) {
			session.openTrouble.value = troubleWords(trouble);
		}
	};
	return (
		<>
			<button type="button" class={main ? "act main" : "act"} onClick={() => void ask()}>
				{words}
			</button>
			<input
				ref={input}
				class="unseen"
				type="file"
				accept=".stl,.ply,.json,.commission"
				tabIndex={-1}
				aria-hidden="true"
				data-opens="scan"
				onChange={(event) => {
					const field = event.currentTarget;
					const file = field.files?.[0];
					if (file) void takeFile(session, file);
					// The same file may be chosen again once it has been mended.
					field.value = "";
				}}
			/>
		</>
	);
}
