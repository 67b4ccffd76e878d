/** A coarser stand-in for a large scan, made aside in a worker of its own so that neither window nor planner waits for it. */

import { computed, effect, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { DisplayMesh } from "../jobs/displayMesh.ts";
import type { Piece } from "../jobs/pieces.ts";
import type { Session } from "./session.ts";

/** What the worker is asked for, with the version to tell a late answer by. */
export interface CoarseAsked {
	readonly version: number;
	readonly positions: Float32Array<ArrayBuffer>;
	readonly triangles: Uint32Array<ArrayBuffer>;
}
export interface CoarseMade {
	readonly version: number;
	readonly pieces: readonly Piece[];
}

const kept = new WeakMap<Session, ReadonlySignal<readonly Piece[] | null>>();

/** Pieces over the display mesh's own vertices, or null while there are none and for a small scan. */
export function coarseOf(session: Session): readonly Piece[] | null {
	let found = kept.get(session);
	if (!found) {
		const made: Signal<CoarseMade | null> = signal(null);
		let worker: Worker | null = null;
		effect(() => {
			const mesh = session.mesh.value;
			// What is being made for a mesh that has gone is not worth finishing.
			worker?.terminate();
			worker = null;
			if (mesh?.spare) worker = ask(mesh.version, mesh.spare, made);
		});
		found = computed(() => (made.value?.version === session.mesh.value?.version ? (made.value?.pieces ?? null) : null));
		kept.set(session, found);
	}
	return found.value;
}

function ask(
	version: number,
	{ positions, triangles }: NonNullable<DisplayMesh["spare"]>,
	made: Signal<CoarseMade | null>,
): Worker {
	const worker = new Worker(new URL("../jobs/coarse.worker.ts", import.meta.url), { type: "module" });
	worker.onmessage = ({ data }: MessageEvent<CoarseMade>) => {
		made.value = data;
		worker.terminate();
	};
	// Without a stand-in the full scan is drawn: slower, and no less right.
	worker.onerror = () => worker.terminate();
	// Given away, not copied: a copy of a great scan would hold the window up. A mesh that is shown again has none to give.
	if (positions.length > 0)
		worker.postMessage({ version, positions, triangles } satisfies CoarseAsked, [positions.buffer, triangles.buffer]);
	return worker;
}
