/** Help: a commission worked from scan to sheet, the words of the trade, the keys. */

import { useEffect, useRef } from "preact/hooks";
import { helpShown } from "../state/ui.ts";
import { STEPS } from "./steps.ts";
import { WORDS } from "./words.ts";

const PARTS = [
	{ name: "commission", title: "A commission, step by step" },
	{ name: "words", title: "Words" },
	{ name: "keys", title: "Keys" },
] as const;

const KEYS: readonly (readonly [string, string])[] = [
	["Alt + 1 to 5", "open a page of the day book"],
	["Ctrl or ⌘ + Z, Ctrl or ⌘ + Shift + Z", "undo, redo"],
	["Ctrl or ⌘ + S", "save the commission as a file; it is kept all the time anyway"],
	["F1", "this help"],
	["Esc", "leave off picking, close what lies on top"],
	[
		"arrow keys on the banker",
		"turn the model; with Shift move it; nudge a datum or point that is held, with Shift by ten",
	],
	["+ − 0 on the banker", "nearer, farther, all of it"],
	["Enter while picking", "pick at the crosshair, which the arrow keys move"],
	["Alt while picking", "the very place, without going to the local high or low"],
	["← → on the tape", "the point before, the next; with Shift a run of points"],
];

export function HelpView() {
	const part = helpShown.value;
	const sheet = useRef<HTMLElement>(null);
	useEffect(() => {
		if (part === null) return;
		sheet.current?.focus();
		document.getElementById(`help-${part}`)?.scrollIntoView();
	}, [part]);
	if (part === null) return null;
	return (
		<section class="help" aria-label="help">
			<header>
				<nav aria-label="parts of the help">
					{PARTS.map(({ name, title }) => (
						<button
							type="button"
							key={name}
							class="word"
							onClick={() => {
								document.getElementById(`help-${name}`)?.scrollIntoView({ behavior: "auto" });
							}}
						>
							{title}
						</button>
					))}
				</nav>
				<button
					type="button"
					class="act"
					onClick={() => {
						helpShown.value = null;
					}}
				>
					close the help
				</button>
			</header>
			{/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by the keyboard. */}
			<article class="help-sheet" tabIndex={0} ref={sheet}>
				<h2 id="help-commission">{PARTS[0].title}</h2>
				<p>
					The owl that comes with Puntello, worked as a carver would who has a scan, a block and a drill, and no cast on
					the bench. Open it from the first screen and follow.
				</p>
				<ol class="help-steps">
					{STEPS.map(({ title, text, picture, shows }) => (
						<li key={title}>
							<h3>{title}</h3>
							{text.map((paragraph) => (
								<p key={paragraph}>{paragraph}</p>
							))}
							<img src={picture} alt={shows} loading="lazy" />
						</li>
					))}
				</ol>
				<h2 id="help-words">{PARTS[1].title}</h2>
				<dl class="help-words">
					{WORDS.map(([word, meaning]) => (
						<div key={word}>
							<dt>{word}</dt>
							<dd>{meaning}</dd>
						</div>
					))}
				</dl>
				<h2 id="help-keys">{PARTS[2].title}</h2>
				<dl class="help-words">
					{KEYS.map(([keys, does]) => (
						<div key={keys}>
							<dt>{keys}</dt>
							<dd>{does}</dd>
						</div>
					))}
				</dl>
			</article>
		</section>
	);
}
