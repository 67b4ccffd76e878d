/** The cells of turns that are still open, the one with the greatest bound first; ties go to the older one. */
export class CellHeap {
	/** x, y, z and half edge of each cell, in its own chart. */
	geometry = new Float64Array(4 * 1024);
	chart = new Uint8Array(1024);
	bound = new Float64Array(1024);
	/** Whatever the judge wants its children to start from. */
	hints: Int32Array;
	size = 0;
	readonly hintCount: number;
	private order = new Int32Array(1024);
	private age = new Float64Array(1024);
	private readonly free: number[] = [];
	private made = 0;
	private born = 0;

	constructor(hintCount: number) {
		this.hintCount = hintCount;
		this.hints = new Int32Array(hintCount * 1024);
	}

	/** Greatest bound among the open cells; −∞ when none is open. */
	get top(): number {
		return this.size > 0 ? this.bound[this.order[0]] : -Infinity;
	}

	add(x: number, y: number, z: number, half: number, chart: number, bound: number, hints: Int32Array): void {
		const cell = this.slot();
		this.geometry[4 * cell] = x;
		this.geometry[4 * cell + 1] = y;
		this.geometry[4 * cell + 2] = z;
		this.geometry[4 * cell + 3] = half;
		this.chart[cell] = chart;
		this.bound[cell] = bound;
		for (let k = 0; k < this.hintCount; k++) this.hints[this.hintCount * cell + k] = hints[k];
		this.age[cell] = this.born++;
		const { order } = this;
		let i = this.size++;
		while (i > 0) {
			const parent = (i - 1) >> 1;
			if (!this.before(cell, order[parent])) break;
			order[i] = order[parent];
			i = parent;
		}
		order[i] = cell;
	}

	/** Takes the first cell out; its data stay readable until `release`. */
	pop(): number {
		const { order } = this;
		const top = order[0];
		const last = order[--this.size];
		let i = 0;
		for (;;) {
			let child = 2 * i + 1;
			if (child >= this.size) break;
			if (child + 1 < this.size && this.before(order[child + 1], order[child])) child++;
			if (!this.before(order[child], last)) break;
			order[i] = order[child];
			i = child;
		}
		order[i] = last;
		return top;
	}

	release(cell: number): void {
		this.free.push(cell);
	}

	private before(a: number, b: number): boolean {
		return this.bound[a] > this.bound[b] || (this.bound[a] === this.bound[b] && this.age[a] < this.age[b]);
	}

	private slot(): number {
		const recycled = this.free.pop();
		if (recycled !== undefined) return recycled;
		if (this.made === this.bound.length) {
			const room = 2 * this.made;
			const geometry = new Float64Array(4 * room);
			geometry.set(this.geometry);
			this.geometry = geometry;
			const chart = new Uint8Array(room);
			chart.set(this.chart);
			this.chart = chart;
			const bound = new Float64Array(room);
			bound.set(this.bound);
			this.bound = bound;
			const hints = new Int32Array(this.hintCount * room);
			hints.set(this.hints);
			this.hints = hints;
			const order = new Int32Array(room);
			order.set(this.order);
			this.order = order;
			const age = new Float64Array(room);
			age.set(this.age);
			this.age = age;
		}
		return this.made++;
	}
}
