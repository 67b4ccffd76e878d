/** The browser's store of held work, in memory. */

import type { HeldStore, HeldWork } from "../../renderer/state/held.ts";

/** `living` names the windows that are still there; `full` lets nothing more in. */
export function emptyStore(): HeldStore & { readonly living: Set<string>; full: boolean } {
	const table = new Map<string, HeldWork>();
	const keyOf = ({ id, writer }: Pick<HeldWork, "id" | "writer">): string => `${id} ${writer}`;
	const living = new Set<string>();
	return {
		living,
		full: false,
		async put(work) {
			if (this.full) throw new Error("full");
			table.set(keyOf(work), work);
		},
		async drop(work) {
			table.delete(keyOf(work));
		},
		all: async () => [...table.values()],
		live: (writer) => void living.add(writer),
		async ofGone({ writer }, deed) {
			if (!living.has(writer)) await deed();
		},
	};
}
