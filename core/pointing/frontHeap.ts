/**
 * The vertices on a front by cost, then index. A vertex whose cost has fallen is entered again and its old entry, which no
 * longer says its cost, is passed over when it comes up: so no entry is ever sought, and all that is compared lies side by
 * side (four ways at a time: A. LaMarca and R. Ladner, "The influence of caches on the performance of heaps", 1996).
 */
export class FrontHeap {
	size = 0;
	#costs = new Float64Array(1024);
	#vertices = new Int32Array(1024);

	/** Cost of the entry that `take` gives next. */
	leastCost(): number {
		return this.#costs[0];
	}

	push(v: number, cost: number): void {
		if (this.size === this.#vertices.length) this.#grow();
		const costs = this.#costs;
		const vertices = this.#vertices;
		let at = this.size++;
		while (at > 0) {
			const above = (at - 1) >> 2;
			const c = costs[above];
			if (c < cost || (c === cost && vertices[above] <= v)) break;
			costs[at] = c;
			vertices[at] = vertices[above];
			at = above;
		}
		costs[at] = cost;
		vertices[at] = v;
	}

	/** Takes out the least entry and returns its vertex; there must be one. */
	take(): number {
		const costs = this.#costs;
		const vertices = this.#vertices;
		const taken = vertices[0];
		const size = --this.size;
		const cost = costs[size];
		const v = vertices[size];
		let at = 0;
		for (let first = 1; first < size; first = 4 * at + 1) {
			let below = first;
			let c = costs[first];
			const end = Math.min(first + 4, size);
			for (let i = first + 1; i < end; i++) {
				if (costs[i] < c || (costs[i] === c && vertices[i] < vertices[below])) {
					below = i;
					c = costs[i];
				}
			}
			if (cost < c || (cost === c && v <= vertices[below])) break;
			costs[at] = c;
			vertices[at] = vertices[below];
			at = below;
		}
		costs[at] = cost;
		vertices[at] = v;
		return taken;
	}

	#grow(): void {
		const costs = new Float64Array(2 * this.#costs.length);
		costs.set(this.#costs);
		this.#costs = costs;
		const vertices = new Int32Array(2 * this.#vertices.length);
		vertices.set(this.#vertices);
		this.#vertices = vertices;
	}
}
