/** The one door of the bridge: every call, from either wire, is named, parsed strictly and answered here. */

import type { z } from "zod";
import { Refusal } from "../core/refusal.ts";
import { refusalText } from "../core/text/refusals.ts";
import { type CallName, calls, type ReplyEnvelope } from "./bridge/contract.ts";
import type { Services } from "./services.ts";

export type Schemas = Readonly<Record<CallName, z.ZodType>>;

/** The requests as they come over inter-process calls, where bytes can travel. */
export const shellRequests = Object.fromEntries(
	Object.entries(calls).map(([name, call]) => [name, call.request]),
) as unknown as Schemas;

export const isCallName = (name: unknown): name is CallName => typeof name === "string" && Object.hasOwn(calls, name);

/** A refusal of the bridge itself; the window never causes one, so the words are for whoever writes the window. */
export const refused = (code: string, message: string): ReplyEnvelope => ({ ok: false, code, message });

function whereAndWhat(error: z.ZodError): string {
	const issue = error.issues[0];
	return `${issue.path.join(".") || "request"}: ${issue.message}`;
}

/**
 * Parses and answers one call. Never throws: an input that is refused and a defect both come back as data, a defect without
 * its details, which go to `report`.
 */
export async function answerCall(
	services: Services,
	name: unknown,
	request: unknown,
	schemas: Schemas,
	report: (error: unknown) => void = console.error,
): Promise<ReplyEnvelope> {
	if (!isCallName(name)) return refused("bridge.unknownCall", `There is no call ${JSON.stringify(name)}.`);
	const parsed = schemas[name].safeParse(request);
	if (!parsed.success) return refused("bridge.badRequest", whereAndWhat(parsed.error));
	try {
		// The schema of that very name has just made sure of the request's type.
		const serve = services[name] as (request: unknown) => Promise<unknown>;
		return { ok: true, value: await serve(parsed.data) };
	} catch (error) {
		if (error instanceof Refusal) return refused(error.issue.code, refusalText(error.issue));
		report(error);
		return refused(
			"defect",
			"Puntello met a defect of its own while answering. What you entered is still in the window.",
		);
	}
}
