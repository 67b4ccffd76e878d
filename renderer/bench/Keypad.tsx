/** Figures typed with a wet glove: large keys, no keyboard of the tablet's own. The machine's keyboard works as well. */

import type { ComponentChildren } from "preact";
import { useKeys } from "./useKeys.ts";

const KEYS = ["7", "8", "9", "4", "5", "6", "1", "2", "3", "−", "0", "."] as const;
const MOST = 8;

interface KeypadProps {
	readonly label: string;
	readonly unit: string;
	readonly text: string;
	readonly mayBeNegative: boolean;
	readonly takeWords: string;
	readonly ready: boolean;
	readonly children?: ComponentChildren;
	onText(text: string): void;
	onTake(): void;
	onLeave(): void;
}

/** The text after a key; what would be no number is not taken. */
function afterKey(text: string, key: string, mayBeNegative: boolean): string {
	if (key === "−") return !mayBeNegative ? text : text.startsWith("-") ? text.slice(1) : `-${text}`;
	if (key === ".") return text.includes(".") ? text : `${text === "" || text === "-" ? `${text}0` : text}.`;
	return text.length >= MOST ? text : text + key;
}

export function Keypad(props: KeypadProps) {
	const { label, unit, text, mayBeNegative, takeWords, ready, children, onText, onTake, onLeave } = props;
	useKeys((event) => {
		const key = event.key === "-" ? "−" : event.key === "," ? "." : event.key;
		if (/^[0-9.−]$/.test(key)) onText(afterKey(text, key, mayBeNegative));
		else if (key === "Backspace") onText(text.slice(0, -1));
		else if (key === "Enter" && !(event.target instanceof HTMLButtonElement)) {
			if (ready) onTake();
		} else if (key === "Escape") onLeave();
		else return false;
		return true;
	}, true);
	return (
		<section class="keypad" aria-label={label}>
			<p class="keypad-label">{label}</p>
			<output class="keypad-text">
				{text === "" ? "–" : text.replace("-", "−")} <small>{unit}</small>
			</output>
			{children}
			<div class="keypad-keys">
				{KEYS.map((key) => (
					<button
						type="button"
						key={key}
						disabled={key === "−" && !mayBeNegative}
						aria-label={key === "−" ? "minus" : key === "." ? "point" : undefined}
						onClick={() => onText(afterKey(text, key, mayBeNegative))}
					>
						{key}
					</button>
				))}
			</div>
			<div class="bench-acts">
				<button type="button" onClick={onLeave}>
					leave it
				</button>
				<button type="button" onClick={() => onText(text.slice(0, -1))} disabled={text === ""}>
					rub out
				</button>
				<button type="button" class="main" onClick={onTake} disabled={!ready}>
					{takeWords}
				</button>
			</div>
		</section>
	);
}
