/** The open scan's surface for the window: rays and closest places, made once for each display mesh. */

import { computed, type ReadonlySignal } from "@preact/signals";
import { createPicker, type Picker } from "../banker/picker.ts";
import type { Session } from "./session.ts";

const kept = new WeakMap<Session, ReadonlySignal<Picker | null>>();

export function surfaceOf(session: Session): Picker | null {
	let found = kept.get(session);
	if (!found) {
		found = computed(() => (session.mesh.value ? createPicker(session.mesh.value) : null));
		kept.set(session, found);
	}
	return found.value;
}
