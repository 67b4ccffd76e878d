import type { ComponentChildren } from "preact";
import { useId } from "preact/hooks";
import { troubles } from "../state/ui.ts";

/** One entry of the day book: inputs, the answer, and the reason for it. `place`: where messages about it are shown. */
export function Card({ title, place, children }: { title: string; place?: string; children: ComponentChildren }) {
	const id = `card-${useId()}`;
	const trouble = place === undefined ? undefined : troubles.value[place];
	return (
		<section class="card" aria-labelledby={id}>
			<h3 id={id}>{title}</h3>
			{children}
			{trouble !== undefined && (
				<p class="trouble" role="alert">
					{trouble}
				</p>
			)}
		</section>
	);
}

/** Label and figure pairs, figures right-aligned. */
export function Figures({ rows }: { rows: readonly (readonly [string, string, ("bad" | undefined)?, string?])[] }) {
	return (
		<dl class="figures">
			{rows.map(([label, figure, bad, exact]) => (
				<>
					<dt>{label}</dt>
					<dd class={bad} title={exact}>
						{figure}
					</dd>
				</>
			))}
		</dl>
	);
}
