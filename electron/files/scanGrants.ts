/** Leave to read single files: the window is given a token and never a path, and only tokens issued here are redeemed. */

import { randomBytes } from "node:crypto";
import { basename } from "node:path";
import { Refusal } from "../../core/refusal.ts";
import type { ScanGrant } from "../bridge/contract.ts";
import { type FileLayer, refuse } from "./fileLayer.ts";

export interface ScanGrants {
	/** Leave to read that file. Refuses what is not there or is not a file. */
	issue(path: string): Promise<ScanGrant>;
	/** The path that a token stands for, or null for a token never issued. */
	redeem(token: string): string | null;
}

export function createScanGrants(layer: FileLayer): ScanGrants {
	const paths = new Map<string, string>();
	return {
		async issue(path) {
			const facts = await layer.facts(path).catch((error) => refuse(error, path, "read"));
			if (!facts.isFile) throw new Refusal("files.folder", { path });
			const token = randomBytes(16).toString("hex");
			paths.set(token, path);
			return { token, name: basename(path), size: facts.size };
		},
		redeem: (token) => paths.get(token) ?? null,
	};
}
