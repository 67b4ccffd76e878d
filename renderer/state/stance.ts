/** Standing a scan up by quarter turns, kept as whole-numbered quaternions so that nothing drifts. */

type Quaternion = readonly [number, number, number, number];

export type QuarterTurn = "forward" | "back" | "left" | "right" | "round";

/** x, y, z, w, in the model frame: x to the viewer's right, the viewer in front (−y), z up. */
const TURNS: Readonly<Record<QuarterTurn, Quaternion>> = {
	/** The top comes towards the viewer. */
	forward: [1, 0, 0, 1],
	back: [-1, 0, 0, 1],
	left: [0, -1, 0, 1],
	right: [0, 1, 0, 1],
	/** About the vertical, counter-clockwise from above. */
	round: [0, 0, 1, 1],
};

/** The stance after a further quarter turn as the viewer sees it; whole numbers stay whole and small. */
export function turnedStance(stance: Quaternion, turn: QuarterTurn): [number, number, number, number] {
	const [ax, ay, az, aw] = TURNS[turn];
	const [bx, by, bz, bw] = stance;
	const q: [number, number, number, number] = [
		aw * bx + ax * bw + ay * bz - az * by,
		aw * by - ax * bz + ay * bw + az * bx,
		aw * bz + ax * by - ay * bx + az * bw,
		aw * bw - ax * bx - ay * by - az * bz,
	];
	const least = Math.min(...q.filter((c) => c !== 0).map(Math.abs));
	const small = q.map((c) => c / least);
	const whole = small.every((c) => Math.abs(c - Math.round(c)) < 1e-12);
	const first = q[3] !== 0 ? q[3] : (q.find((c) => c !== 0) ?? 1);
	const sign = first < 0 ? -1 : 1;
	const tidy = (c: number): number => (c === 0 ? 0 : sign * (whole ? Math.round(c) : c));
	return [tidy(small[0]), tidy(small[1]), tidy(small[2]), tidy(small[3])];
}
