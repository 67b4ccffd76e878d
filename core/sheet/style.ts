/** The look of the sheets: paper, slate and one accent, the red earth that marks stone. Sizes in mm on the paper. */

import type { Pen, TextLook } from "./drawing.ts";

export const INK = "#23262a";
export const SLATE = "#56616b";
export const PALE = "#c3cad0";
export const TINT = "#f3f0e9";
export const PAPER = "#ffffff";
export const RADDLE = "#8a3a24";

/** 9 pt is 3.175 mm; nothing on a sheet is set smaller. */
export const BODY = 3.2;
/** Digits of the font stand 0.729 em high, so these are 4.1 mm. */
export const NUMERAL = 5.62;
/** Height of a capital or a digit in em (DejaVu Sans: 1493 of 2048). */
export const CAP_HEIGHT = 0.729;
/** From baseline to baseline. */
export const LEADING = 1.34;

export const body: TextLook = { size: BODY, colour: INK };
export const bodyBold: TextLook = { size: BODY, colour: INK, bold: true };
export const quiet: TextLook = { size: BODY, colour: SLATE };
export const heading: TextLook = { size: 4.6, colour: INK, bold: true };
export const title: TextLook = { size: 8.2, colour: INK, bold: true };

export const hairline: Pen = { colour: PALE, width: 0.12 };
export const rule: Pen = { colour: SLATE, width: 0.18 };
export const strong: Pen = { colour: INK, width: 0.35 };
export const raddlePen: Pen = { colour: RADDLE, width: 0.5 };
