/** Memory taken by typed arrays while something runs: every array made or copied counts, whether or not it is let go again. */

const KINDS = ["Float64Array", "Float32Array", "Uint32Array", "Int32Array", "Uint16Array", "Uint8Array"] as const;

/** Runs `task` and sums the bytes of all typed arrays that it makes: never less than what it holds at its fullest. */
export function countingMemory<T>(task: () => T): { result: T; taken: number } {
	let taken = 0;
	const world = globalThis as unknown as Record<string, unknown>;
	const before = KINDS.map((kind) => world[kind]);
	// The prototype that all typed arrays share.
	const shared = Object.getPrototypeOf(Uint8Array.prototype) as { slice: typeof Uint8Array.prototype.slice };
	const { slice } = shared;
	for (const kind of KINDS)
		world[kind] = new Proxy(world[kind] as new (...args: unknown[]) => ArrayBufferView, {
			construct(target, args) {
				// A view on a buffer takes nothing; a length or a list of numbers does.
				const made = new target(...args);
				if (!(args[0] instanceof ArrayBuffer)) taken += made.byteLength;
				return made;
			},
		});
	shared.slice = function (this: Uint8Array, from?: number, to?: number) {
		const made = slice.call(this, from, to);
		taken += made.byteLength;
		return made;
	};
	try {
		return { result: task(), taken };
	} finally {
		KINDS.forEach((kind, i) => {
			world[kind] = before[i];
		});
		shared.slice = slice;
	}
}
