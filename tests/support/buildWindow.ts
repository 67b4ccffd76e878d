/** Before the end-to-end tests: the renderer as it stands now, built. */

import { build } from "../../electron/build.ts";

export default async function buildWindow(): Promise<void> {
	await build(console.log);
}
