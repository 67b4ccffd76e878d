import { useRef } from "preact/hooks";
import { call, inShell } from "../bridge.ts";
import { useSession } from "../state/context.ts";

/** Opens a scan: by the system's dialogue under the shell, by the browser's own in a browser. */
export function OpenScan({ words, main = false }: { words: string; main?: boolean }) {
	const session = useSession();
	const input = useRef<HTMLInputElement>(null);
	const ask = async (): Promise<void> => {
		if (!inShell()) {
			input.current?.click();
			return;
		}
		const grant = await call("chooseScan", {});
		if (grant) await session.openScan({ kind: "grant", ...grant });
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
				accept=".stl,.ply"
				tabIndex={-1}
				aria-hidden="true"
				data-opens="scan"
				onChange={(event) => {
					const field = event.currentTarget;
					const file = field.files?.[0];
					if (file) void session.openScan({ kind: "file", file });
					// The same file may be chosen again once it has been mended.
					field.value = "";
				}}
			/>
		</>
	);
}
