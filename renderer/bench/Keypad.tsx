/** Figures typed with a wet glove: large keys, no keyboard of the tablet's own. The machine's keyboard works as well. */

import type { ComponentChildren } from "preact";
import { afterKey, FRACTIONS, rubbedOut } from "./keyed.ts";
import { useKeys } from "./useKeys.ts";

const KEYS = ["7", "8", "9", "4", "5", "6", "1", "2", "3", "−", "0", "."] as const;

interface KeypadProps {
	readonly label: string;
	readonly unit: string;
	readonly text: string;
	readonly mayBeNegative: boolean;
	/** Keys for sixteenths stand beside the figures. */
	readonly fractions?: boolean;
	readonly takeWords: string;
	readonly ready: boolean;
	readonly children?: ComponentChildren;
	onText(text: string): void;
	onTake(): void;
	onLeave(): void;
}

export function Keypad(props: KeypadProps) {
	const {
		label,
		unit,
		text,
		mayBeNegative,
		fractions = false,
		takeWords,
		ready,
		children,
		onText,
		onTake,
		onLeave,
	} = props;
	useKeys((event) => {
		const key = event.key === "-" ? "−" : event.key === "," ? "." : event.key;
		const onButton = event.target instanceof HTMLButtonElement;
		if (/^[0-9.−/ ]$/.test(key) && !(key === " " && onButton)) onText(afterKey(text, key, mayBeNegative, fractions));
		else if (key === "Backspace") onText(rubbedOut(text));
		else if (key === "Enter" && !onButton) {
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
			<div class={fractions ? "keypad-boards with-fractions" : "keypad-boards"}>
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
				{fractions && (
					<div class="keypad-fractions">
						{FRACTIONS.map((part) => (
							<button type="button" key={part} onClick={() => onText(afterKey(text, part, mayBeNegative, true))}>
								{part}
							</button>
						))}
					</div>
				)}
			</div>
			<div class="bench-acts">
				<button type="button" onClick={onLeave}>
					leave it
				</button>
				<button type="button" onClick={() => onText(rubbedOut(text))} disabled={text === ""}>
					rub out
				</button>
				<button type="button" class="main" onClick={onTake} disabled={!ready}>
					{takeWords}
				</button>
			</div>
		</section>
	);
}
