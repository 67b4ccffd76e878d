/**
 * `npm run bench [name…]`: every *.bench.ts of this folder, or those whose name contains one of the words.
 * A bench file's default export gives its comparisons; input is seeded, answers are checked, medians of at least five.
 */

import { readdirSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { type BenchFile, compare } from "./harness.ts";

const here = fileURLToPath(new URL(".", import.meta.url));
const wanted = process.argv.slice(2);
const files = readdirSync(here)
	.filter((file) => file.endsWith(".bench.ts"))
	.filter((file) => wanted.length === 0 || wanted.some((word) => file.includes(word)))
	.sort();

console.log(`Node ${process.version}, ${cpus().length} × ${cpus()[0]?.model.trim() ?? "unknown processor"}`);
console.log("ratio = median of ours ÷ median of theirs, same run, same input, answers compared first\n");
for (const file of files) {
	const load = ((await import(new URL(file, import.meta.url).href)) as { default: BenchFile }).default;
	for (const one of await load()) console.log("line" in one ? one.line : compare(one).line);
}
console.log(`\n${(performance.now() / 1000).toFixed(0)} s in all`);
