/** Standing a scan up: by turns of any angle, and on three places picked on it. */

import { tanDegrees } from "../../core/exactAngle.ts";
import { type Quaternion, quaternionProduct, tidyQuaternion } from "../../core/model/quaternion.ts";
import { restingStance } from "../../core/model/restingFaces.ts";
import type { Commission } from "../../core/plan/commission.ts";
import { cross, dot, length, scale, sub, type Vec3 } from "../../core/vector.ts";
import type { Place } from "../banker/picker.ts";
import { drawCutAlong } from "./cuts.ts";
import type { Session } from "./session.ts";
import { type Picking, picking, planeDraft, setTrouble } from "./ui.ts";

type Stance = Commission["model"]["stance"];

export const withStance = (c: Commission, stance: Stance): Commission => ({ ...c, model: { ...c.model, stance } });

/** With the question whether it stands so answered, or still to be. */
export const withStanceSaid = (c: Commission, stanceSaid: boolean): Commission => ({
	...c,
	model: { ...c.model, stanceSaid },
});

export const asScanned = ({ model }: Commission): boolean => model.stance.join() === "0,0,0,1";

/** As the viewer in front sees it: which way the top goes, or round about the vertical, counter-clockwise from above. */
export type Turn = "forward" | "back" | "left" | "right" | "round";

/** Axes in the model frame: x to the viewer's right, the viewer in front (−y), z up. */
const AXES: Readonly<Record<Turn, Vec3>> = {
	forward: [1, 0, 0],
	back: [-1, 0, 0],
	left: [0, -1, 0],
	right: [0, 1, 0],
	round: [0, 0, 1],
};

/**
 * The stance after a further turn by that many degrees (−180 to 180). Quarter turns stay small whole numbers, so that they
 * never drift. `mirrored` as in the model frame, where the mirror comes after the stance: the turn is then the mirrored one.
 */
export function turnedStance(stance: Quaternion, turn: Turn, degrees: number, mirrored: boolean): Stance {
	const [x, y, z] = AXES[turn];
	const half = degrees / 2;
	// Half a turn has no tangent of its half; quarter turns have exactly 1.
	const [s, w] =
		Math.abs(degrees) === 180 ? [1, 0] : Math.abs(degrees) === 90 ? [Math.sign(half), 1] : [tanDegrees(half), 1];
	const m = mirrored ? -1 : 1;
	return tidyQuaternion(quaternionProduct([s * x, m * s * y, m * s * z, w], stance));
}

/** The places picked so far for the plane; none once the model stands differently. */
export function planePicked(session: Session): readonly Place[] {
	const draft = planeDraft.value;
	return draft && draft.on === session.mesh.value ? draft.places : [];
}

type PlaneUse = Extract<Picking, { kind: "plane" }>["to"];

/** Where messages about the plane are shown. */
const PLANE_CARD: Readonly<Record<PlaneUse, string>> = { stand: "stance", saw: "cuts" };

export function pickPlane(to: PlaneUse): void {
	planeDraft.value = null;
	setTrouble(PLANE_CARD[to], null);
	picking.value = { kind: "plane", to };
}

/** Three places nearer to a line than this share of their greatest distance make no plane. */
const IN_LINE = 0.05;

/** Takes a place of the plane that is being picked; the third stands the model on it, or lays a cut along it. */
export function takePlanePlace(session: Session, place: Place): void {
	const on = session.mesh.value;
	const to = picking.value?.kind === "plane" ? picking.value.to : null;
	if (!on || to === null) return;
	const places = [...planePicked(session), place];
	if (places.length < 3) {
		planeDraft.value = { on, places };
		return;
	}
	const normal = outwardOf(places);
	if (normal === null) {
		setTrouble(
			PLANE_CARD[to],
			"The three places lie nearly in a line, which makes no plane. Pick the third further off.",
		);
		return;
	}
	planeDraft.value = null;
	picking.value = null;
	if (to === "saw") {
		setTrouble("cuts", drawCutAlong(session, normal));
		return;
	}
	setTrouble(
		"stance",
		session.change("stand it on three places", (c) =>
			withStance(c, restingStance(normal, c.model.stance, c.scan.mirrored)),
		),
	);
}

/** Normal of the plane through three places, on the side to which their surface faces; null when they lie in a line. */
export function outwardOf([a, b, c]: readonly Place[]): Vec3 | null {
	const [u, v, w] = [sub(b.position, a.position), sub(c.position, a.position), sub(c.position, b.position)];
	const normal = cross(u, v);
	const longest = Math.max(length(u), length(v), length(w));
	if (!(length(normal) > IN_LINE * longest * longest)) return null;
	const faces = dot(normal, a.normal) + dot(normal, b.normal) + dot(normal, c.normal);
	return faces < 0 ? scale(normal, -1) : normal;
}
