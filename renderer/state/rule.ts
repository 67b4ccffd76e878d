/** The rule: two places on the model and the length between them. */

import type { Place } from "../banker/picker.ts";
import type { Session } from "./session.ts";
import { picking, ruleLaid } from "./ui.ts";

export function rulePlaces(session: Session): readonly Place[] {
	const laid = ruleLaid.value;
	return laid && laid.on === session.mesh.value ? laid.places : [];
}

export function layRule(): void {
	ruleLaid.value = null;
	picking.value = { kind: "rule" };
}

export function takeRulePlace(session: Session, place: Place): void {
	const on = session.mesh.value;
	if (!on) return;
	const places = [...rulePlaces(session), place];
	ruleLaid.value = { on, places };
	if (places.length === 2) picking.value = null;
}
