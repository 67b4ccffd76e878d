/** What the calls of the bridge do, once for both holders: the desktop shell and the loopback host cannot drift apart. */

import { basename } from "node:path";
import type { CallName, ParsedRequest, Reply } from "./bridge/contract.ts";
import type { Commissions } from "./files/commissions.ts";
import { type FileLayer, refuse } from "./files/fileLayer.ts";
import type { ScanGrants } from "./files/scanGrants.ts";
import type { KeptLook } from "./files/windowLook.ts";
import { openingOf } from "./opening.ts";

/** What only the holder of the window can do. */
export interface Holder {
	readonly kind: "shell" | "host";
	/** Path of what the person chose to work on, or as the stone; null for nothing. */
	chooseFile(what: "work" | "stone"): Promise<string | null>;
	/** Whether it is for the holder to keep the screen awake. */
	keepAwake(on: boolean): boolean;
	saveFile(name: string, bytes: Uint8Array): Promise<Reply<"saveFile">>;
	printPdf(bytes: Uint8Array): Promise<Reply<"printPdf">>;
}

export type Services = { readonly [N in CallName]: (request: ParsedRequest<N>) => Promise<Reply<N>> };
export type Opening = Reply<"hello">["open"];

export interface ServiceParts {
	readonly holder: Holder;
	readonly version: string;
	readonly layer: FileLayer;
	readonly grants: ScanGrants;
	readonly commissions: Commissions;
	readonly look: KeptLook;
	/** What the window was asked to open; asked anew at each hello, because the shell may be given another file. */
	opening(): Opening;
}

/** A browser has its own dialogues, so the host leaves choosing, saving and printing to it. */
export const browserHolder: Holder = {
	kind: "host",
	chooseFile: async () => null,
	keepAwake: () => false,
	saveFile: async () => "download",
	printPdf: async () => "open",
};

export function createServices(parts: ServiceParts): Services {
	const { holder, version, layer, grants, commissions, look, opening } = parts;
	const pathOf = (token: string | null): string | null => (token === null ? null : grants.redeem(token));
	const leaveFor = async (path: string | null) => (path === null ? null : grants.issue(path));
	return {
		hello: async () => ({
			holder: holder.kind,
			version,
			open: opening(),
			recents: await commissions.recents(),
			look: await look.recall(),
		}),
		async keepLook(wanted) {
			await look.keep(wanted);
			return null;
		},
		async chooseFile({ what }) {
			const path = await holder.chooseFile(what);
			if (path === null) return null;
			if (what === "stone" && /\.json$/i.test(path)) {
				const bytes = await layer.read(path).catch((error) => refuse(error, path, "read"));
				return { kind: "stone", name: basename(path), text: new TextDecoder().decode(bytes) };
			}
			const chosen = await openingOf(path, layer, grants);
			return chosen.kind === "scan" || chosen.kind === "commission" ? chosen : null;
		},
		keepCommission: ({ id, text, scanToken, stoneToken, writer, seen }) =>
			commissions.keep(id, text, { scanPath: pathOf(scanToken), stonePath: pathOf(stoneToken), writer, seen }),
		async recallCommission({ id }) {
			const { scanPath, stonePath, ...kept } = await commissions.recall(id);
			return { ...kept, grant: await leaveFor(scanPath), stoneGrant: await leaveFor(stonePath) };
		},
		keepAwake: async ({ on }) => holder.keepAwake(on),
		saveFile: ({ name, bytes }) => holder.saveFile(name, bytes),
		printPdf: ({ bytes }) => holder.printPdf(bytes),
	};
}
