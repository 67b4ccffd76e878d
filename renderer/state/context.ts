import { createContext } from "preact";
import { useContext } from "preact/hooks";
import type { Session } from "./session.ts";

export const SessionContext = createContext<Session | null>(null);

/** The window's session. Only inside `App`. */
export function useSession(): Session {
	const session = useContext(SessionContext);
	if (!session) throw new Error("A component outside the window asked for its session.");
	return session;
}
