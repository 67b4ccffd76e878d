/** What a session is given from outside: the worker, the shell or host, the clock. */

import type { CallName, Reply, Request } from "../../electron/bridge/contract.ts";
import type { JobClient } from "../jobs/jobClient.ts";
import type { Jobs } from "../jobs/shown.ts";
import type { HeldStore } from "./held.ts";
import type { ScanCopies } from "./scanCopies.ts";

export interface SessionTools {
	readonly jobs: JobClient<Jobs>;
	call<N extends CallName>(name: N, request: Request<N>, leaving?: boolean): Promise<Reply<N>>;
	/** ms */
	now(): number;
	/** Calls back after that many ms unless the returned function is called first. */
	after(ms: number, then: () => void): () => void;
	newId(): string;
	/** SHA-256 of the text in UTF-8, lower-case hexadecimal. */
	fingerprint(text: string): Promise<string>;
	/** Where work is held that cannot be kept. */
	readonly held: HeldStore;
	/** Copies of scans that were chosen by hand. */
	readonly scans: ScanCopies;
}
