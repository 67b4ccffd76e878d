/** What the carver changes on the last page, by the part of the commission that it belongs to. */

import type { Commission } from "../../core/plan/commission.ts";
import type { Session } from "./session.ts";

type Part = "finish" | "fixing" | "quote" | "workday";

/** Changes entries of one part; answers why that is refused, or null. */
export const changePart = <P extends Part>(
	session: Session,
	words: string,
	part: P,
	change: Partial<Commission[P]>,
): string | null => session.change(words, (c) => ({ ...c, [part]: { ...c[part], ...change } }), { key: words });

export const changePin = (session: Session, words: string, change: Partial<Commission["fixing"]["pin"]>) =>
	session.change(words, (c) => ({ ...c, fixing: { ...c.fixing, pin: { ...c.fixing.pin, ...change } } }), {
		key: words,
	});

export const changeLeaf = (session: Session, words: string, change: Partial<Commission["finish"]["leaf"]>) =>
	session.change(words, (c) => ({ ...c, finish: { ...c.finish, leaf: { ...c.finish.leaf, ...change } } }), {
		key: words,
	});

/** A rate of the carver's own no longer rests on the log. */
export const changeRate = (session: Session, key: keyof Commission["quote"]["rates"], words: string, value: number) =>
	session.change(
		words,
		(c) => {
			const { [key]: _, ...restsOn } = c.quote.restsOn;
			return { ...c, quote: { ...c.quote, rates: { ...c.quote.rates, [key]: value }, restsOn } };
		},
		{ key: words },
	);
