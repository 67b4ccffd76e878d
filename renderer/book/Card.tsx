import type { ComponentChildren } from "preact";
import { useId } from "preact/hooks";
import type { AnswerName } from "../../core/plan/answersByStages.ts";
import type { AnswersShown } from "../jobs/shown.ts";
import { useSession } from "../state/context.ts";
import { AGAIN } from "../state/outdated.ts";
import { troubles } from "../state/ui.ts";

/**
 * One entry of the day book: inputs, the answer, and the reason for it. `place`: where messages about it are shown.
 * `shows`: the planner's answers that stand in it, so that it says when they are from before the last change.
 */
export function Card(props: {
	title: string;
	place?: string;
	shows?: readonly (AnswerName & keyof AnswersShown)[];
	children: ComponentChildren;
}) {
	const { title, place, shows, children } = props;
	const session = useSession();
	const isOld = shows?.some((name) => session.awaited[name] && isThere(session.answers.value?.[name]));
	const id = `card-${useId()}`;
	const trouble = place === undefined ? undefined : troubles.value[place];
	return (
		<section class="card" aria-labelledby={id}>
			{isOld && <em class="again card-again">{AGAIN}</em>}
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

const isThere = (answer: unknown): boolean => Boolean(answer) && !(Array.isArray(answer) && answer.length === 0);

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
