/** A program of the tests as one plain file, for those that start it again and again: it stands ready in a tenth of the time. */

import { builtinModules } from "node:module";
import { basename, join } from "node:path";
import { build } from "vite";
import { PROJECT } from "../../electron/build.ts";

/** Bundles `entry` (path under the project) into `folder`; returns the path of the file. */
export async function bundled(entry: string, folder: string): Promise<string> {
	const name = `${basename(entry, ".ts")}.mjs`;
	await build({
		configFile: false,
		envDir: false,
		logLevel: "warn",
		root: PROJECT,
		publicDir: false,
		ssr: { noExternal: true, target: "node" },
		build: {
			ssr: true,
			outDir: folder,
			emptyOutDir: false,
			target: "node20",
			minify: false,
			rolldownOptions: {
				input: join(PROJECT, entry),
				external: [/^node:/, ...builtinModules],
				output: { format: "es", entryFileNames: name, codeSplitting: false },
			},
		},
	});
	return join(folder, name);
}
