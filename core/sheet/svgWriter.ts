/** Writes a drawing as SVG whose sizes are true millimetres, to carry on with in any drawing program. */

import type { Drawing, Pen, Shape } from "./drawing.ts";

/** Thousandths of a millimetre, without trailing zeros. */
const at = (mm: number): string => String(Math.round(mm * 1000) / 1000);

const escaped = (words: string): string =>
	words.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;").replace(/"/g, "&quot;");

function penOf(pen: Pen | undefined): string {
	if (!pen) return "";
	const dash = pen.dash ? ` stroke-dasharray="${pen.dash.map(at).join(" ")}"` : "";
	return ` stroke="${pen.colour}" stroke-width="${at(pen.width)}"${dash}`;
}

function shapeText(shape: Shape): string {
	if (shape.kind === "disc")
		return `<circle cx="${at(shape.x)}" cy="${at(shape.y)}" r="${at(shape.radius)}" fill="${shape.fill ?? "none"}"${penOf(shape.pen)}/>`;
	if (shape.kind === "text") {
		const anchor = shape.anchor === "start" ? "" : ` text-anchor="${shape.anchor}"`;
		const turn = shape.turned ? ` transform="rotate(-90 ${at(shape.x)} ${at(shape.y)})"` : "";
		const weight = shape.bold ? ' font-weight="bold"' : "";
		return `<text x="${at(shape.x)}" y="${at(shape.y)}" font-size="${at(shape.size)}" fill="${shape.colour}"${weight}${anchor}${turn}>${escaped(shape.text)}</text>`;
	}
	const parts: string[] = [];
	for (const line of shape.lines) {
		if (line.length < 4) continue;
		parts.push(`M${at(line[0])} ${at(line[1])}`);
		for (let i = 2; i < line.length; i += 2) parts.push(`L${at(line[i])} ${at(line[i + 1])}`);
		if (shape.closed) parts.push("Z");
	}
	return `<path d="${parts.join("")}" fill="${shape.fill ?? "none"}"${penOf(shape.pen)}/>`;
}

/** The drawing as one SVG document. */
export function writeSvg(drawing: Drawing): string {
	const w = at(drawing.width);
	const h = at(drawing.height);
	return [
		'<?xml version="1.0" encoding="UTF-8"?>',
		`<svg xmlns="http://www.w3.org/2000/svg" width="${w}mm" height="${h}mm" viewBox="0 0 ${w} ${h}" font-family="'DejaVu Sans', sans-serif" stroke-linecap="round" stroke-linejoin="round">`,
		`<title>${escaped(drawing.title)}</title>`,
		`<rect width="${w}" height="${h}" fill="#ffffff"/>`,
		...drawing.shapes.map(shapeText),
		"</svg>",
		"",
	].join("\n");
}
