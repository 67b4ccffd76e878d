/** Keeps the screen awake while something is shown, where the machine grants it; elsewhere its own settings decide. */

import { useEffect } from "preact/hooks";

/** `byHolder` asks whoever holds the window; where it answers false, and on the bench page, the browser is asked. */
export function useAwake(byHolder?: (on: boolean) => Promise<boolean>): void {
	useEffect(() => {
		let lock: WakeLockSentinel | null = null;
		let gone = false;
		const ask = async (): Promise<void> => {
			if (document.visibilityState !== "visible") return;
			try {
				if ((await byHolder?.(true)) || !("wakeLock" in navigator)) return;
				const granted = await navigator.wakeLock.request("screen");
				if (gone) void granted.release();
				else lock = granted;
			} catch {
				// Refused, or the battery is low: the screen follows the machine's own settings.
			}
		};
		const again = (): void => void ask();
		document.addEventListener("visibilitychange", again);
		void ask();
		return () => {
			gone = true;
			document.removeEventListener("visibilitychange", again);
			void lock?.release();
			byHolder?.(false).catch(() => {});
		};
	}, []);
}
