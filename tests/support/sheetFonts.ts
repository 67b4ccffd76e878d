/** The sheets' font files, read from their package. */

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const require = createRequire(import.meta.url);
const read = (name: string): Uint8Array =>
	new Uint8Array(readFileSync(require.resolve(`dejavu-fonts-ttf/ttf/${name}.ttf`)));

export const sheetFonts = (): { regular: Uint8Array; bold: Uint8Array } => ({
	regular: read("DejaVuSans"),
	bold: read("DejaVuSans-Bold"),
});
