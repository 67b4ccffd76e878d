/** What the parts of the commission share. */

import { z } from "zod";

// A strict content security policy forbids `new Function`, which zod otherwise probes for.
z.config({ jitless: true });

export const finiteNumber = z.number();
export const positive = finiteNumber.positive();
export const vec3 = z.tuple([finiteNumber, finiteNumber, finiteNumber]);

export const TRANSFERS = ["machine", "callipers", "faces", "straightedge"] as const;
export const TURNINGS = ["as stood", "upright", "tipped", "free"] as const;
export const FACES = ["bed", "top", "front", "back", "left", "right"] as const;
export const BACKS = ["rim", "back", "bed"] as const;
export const PAPERS = ["A4", "A3", "Letter", "Tabloid"] as const;

/** A place on the model's surface: where it is and which way the surface faces there; model frame, mm. */
export const placeOnModel = z.strictObject({ position_mm: vec3, normal: vec3 });
