/**
 * A commission's own file, opened by name, by a click in the system's folder, or dropped. Work goes on in the kept
 * commission and not in the file, so whoever opens the same file again means what was made of it since.
 */

import { readCommission } from "../../core/plan/readDocument.ts";
import type { ScanGrant } from "../../electron/bridge/contract.ts";
import type { createOpenings } from "./openings.ts";
import type { SessionTools } from "./sessionTools.ts";
import { asLeft } from "./ui.ts";

export interface Grants {
	readonly grant: ScanGrant | null;
	readonly stoneGrant: ScanGrant | null;
}

const NONE: Grants = { grant: null, stoneGrant: null };

export function createOpenDocument(
	{ openCommission }: Pick<ReturnType<typeof createOpenings>, "openCommission">,
	tools: SessionTools,
) {
	/** The same commission, whatever its file looks like; text that is none is told when it is opened. */
	const sense = (text: string): string => {
		try {
			const { scan, ...rest } = readCommission(text, "");
			return JSON.stringify({ ...rest, scan: { ...scan, sha256: "" } });
		} catch {
			return text;
		}
	};

	return async function openDocument(text: string, { grant, stoneGrant }: Grants = NONE): Promise<void> {
		// The same file has the same fingerprint, and so the commission that was begun from it is found again.
		const id = (await tools.fingerprint(text)).slice(0, 16);
		const kept = await tools.call("recallCommission", { id }).catch(() => null);
		if (kept === null) return openCommission(text, grant, id, null, stoneGrant);
		await openCommission(kept.text, grant ?? kept.grant, id, kept.version, stoneGrant ?? kept.stoneGrant);
		if (sense(kept.text) === sense(text)) return;
		asLeft.value = {
			name: readCommission(text, "").name,
			anew() {
				void openCommission(text, grant ?? kept.grant, tools.newId(), null, stoneGrant ?? kept.stoneGrant);
			},
		};
	};
}
