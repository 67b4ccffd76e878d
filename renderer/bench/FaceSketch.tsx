/** The face that is entered, seen from outside: from which corner u and v count, which way they run, and where the drill enters. */

import { useId } from "preact/hooks";
import type { BenchFace } from "../../core/bench/benchRows.ts";

const WIDE = 300;
const TALL = 220;
const EDGE = 34;

export function FaceSketch({ face, u, v }: { face: BenchFace; u: number; v: number }) {
	const us = face.outline.map(([a]) => a);
	const vs = face.outline.map(([, b]) => b);
	const [u0, u1] = [Math.min(0, ...us), Math.max(...us)];
	const [v0, v1] = [Math.min(0, ...vs), Math.max(...vs)];
	const by = Math.min((WIDE - 2 * EDGE) / (u1 - u0), (TALL - 2 * EDGE) / (v1 - v0));
	const x = (a: number): number => (face.uRight ? EDGE + (a - u0) * by : WIDE - EDGE - (a - u0) * by);
	const y = (b: number): number => TALL - EDGE - (b - v0) * by;
	const towards = face.uRight ? 1 : -1;
	const hatch = useId();
	const corners = (outline: BenchFace["outline"]): string => outline.map(([a, b]) => `${x(a)},${y(b)}`).join(" ");
	return (
		<figure class="face-figure">
			<svg
				class="face-sketch"
				viewBox={`0 0 ${WIDE} ${TALL}`}
				role="img"
				aria-label={`the ${face.name} face from outside; u runs to the ${face.uRight ? "right" : "left"}, v upwards${face.sawn ? `; ${face.sawn.words.join("; ")}` : ""}`}
			>
				<polygon points={corners(face.outline)} />
				{face.sawn && (
					<>
						<pattern id={hatch} width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
							<path d="M0 0V9" />
						</pattern>
						<polygon points={corners(face.outline)} style={{ fill: `url(#${hatch})` }} />
						{face.sawn.left.length > 2 && <polygon points={corners(face.sawn.left)} />}
					</>
				)}
				<path class="to-entry" d={`M${x(0)} ${y(v)}H${x(u)}V${y(0)}`} />
				<path
					class="axis"
					d={`M${x(0)} ${y(0) + 12}h${towards * 60}m${-towards * 7} -4l${towards * 7} 4l${-towards * 7} 4`}
				/>
				<path class="axis" d={`M${x(0) - towards * 12} ${y(0)}v-60m-4 7l4 -7l4 7`} />
				<text x={x(0) + towards * 70} y={y(0) + 18} text-anchor="middle">
					u
				</text>
				<text x={x(0) - towards * 12} y={y(0) - 66} text-anchor="middle">
					v
				</text>
				<circle class="zero" cx={x(0)} cy={y(0)} r="6" />
				<circle class="entry" cx={x(u)} cy={y(v)} r="7" />
			</svg>
			{face.sawn && (
				<figcaption>
					{face.sawn.words.map((words) => (
						<p key={words}>{words}</p>
					))}
				</figcaption>
			)}
		</figure>
	);
}
