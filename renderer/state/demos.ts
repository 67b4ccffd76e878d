/** Which seed a name or a scan's file belongs to. */

import { type Seed, seeds } from "../../seeds/index.ts";

/** The seed of that name or file name, or null. */
export const demoOf = (name: string): Seed | null =>
	seeds.find((seed) => seed.name === name || seed.fileName === name) ?? null;
