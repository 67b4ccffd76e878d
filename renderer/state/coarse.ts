/** A coarser stand-in for a large scan, made aside in a worker of its own so that neither window nor planner waits for it. */

import { computed, effect, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { DisplayMesh } from "../jobs/displayMesh.ts";
import type { Session } from "./session.ts";

/** Smaller scans turn smoothly as they are. */
export const COARSE_FROM = 400_000;

/** What the worker is asked for, with the version to tell a late answer by. */
export interface CoarseAsked {
	readonly version: number;
	readonly positions: Float32Array<ArrayBuffer>;
	readonly triangles: Uint32Array<ArrayBuffer>;
}
export interface CoarseMade {
	readonly version: number;
	readonly triangles: Uint32Array<ArrayBuffer>;
}

const kept = new WeakMap<Session, ReadonlySignal<Uint32Array<ArrayBuffer> | null>>();

/** Triangles over the display mesh's own vertices, or null while there are none and for a small scan. */
export function coarseOf(session: Session): Uint32Array<ArrayBuffer> | null {
	let found = kept.get(session);
	if (!found) {
		const made: Signal<CoarseMade | null> = signal(null);
		let worker: Worker | null = null;
		effect(() => {
			const mesh = session.mesh.value;
			// What is being made for a mesh that has gone is not worth finishing.
			worker?.terminate();
			worker = null;
			if (mesh && mesh.triangles.length / 3 >= COARSE_FROM) worker = ask(mesh, made);
		});
		found = computed(() =>
			made.value?.version === session.mesh.value?.version ? (made.value?.triangles ?? null) : null,
		);
		kept.set(session, found);
	}
	return found.value;
}

function ask({ version, positions, triangles }: DisplayMesh, made: Signal<CoarseMade | null>): Worker {
	const worker = new Worker(new URL("../jobs/coarse.worker.ts", import.meta.url), { type: "module" });
	worker.onmessage = ({ data }: MessageEvent<CoarseMade>) => {
		made.value = data;
		worker.terminate();
	};
	// Without a stand-in the full scan is drawn: slower, and no less right.
	worker.onerror = () => worker.terminate();
	worker.postMessage({ version, positions, triangles } satisfies CoarseAsked);
	return worker;
}
