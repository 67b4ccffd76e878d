/** The raddle stroke in the margin of a changed default: says what the default is and puts it back. */

export function PutBack({ label, standard, onPutBack }: { label: string; standard: string; onPutBack(): void }) {
	const words = `Changed. Put back ${label}: ${standard}`;
	return (
		<button type="button" class="put-back" aria-label={words} title={words} onClick={onPutBack}>
			<svg viewBox="0 0 20 20" aria-hidden="true">
				<path d="M4 15 C7 9 11 5 16 4" fill="none" stroke="currentColor" stroke-width="2.6" stroke-linecap="round" />
				<path
					d="M4 15 l0.4 -5 M4 15 l4.8 -1.4"
					fill="none"
					stroke="currentColor"
					stroke-width="1.8"
					stroke-linecap="round"
				/>
			</svg>
		</button>
	);
}
