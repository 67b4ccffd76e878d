/** Places of the figure that are to be kept sound: picked on it, shown where the stone is. */

import type { Place } from "../banker/picker.ts";
import { placeOf, placeOnModel } from "./datums.ts";
import type { Session } from "./session.ts";
import { picking } from "./ui.ts";

export function pickSound(): void {
	picking.value = { kind: "sound" };
}

export function takeSoundPlace(session: Session, place: Place): void {
	picking.value = null;
	session.change("a place to be kept sound", (c) => ({
		...c,
		stone: { ...c.stone, keepSound: [...c.stone.keepSound, placeOnModel(place)] },
	}));
}

export const soundPlaces = (session: Session): Place[] => session.commission.value?.stone.keepSound.map(placeOf) ?? [];
