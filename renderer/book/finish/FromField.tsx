/** Whose paper it is; it stands beside the papers, because without it they have no sender. */

import { TextField } from "../../fields/TextField.tsx";

interface FromProps {
	readonly carver: string;
	/** Answers why it is refused, or null. */
	onSet(carver: string): string | null;
}

export function FromField({ carver, onSet }: FromProps) {
	return (
		<>
			<TextField label="from" value={carver} mayBeEmpty most={240} onSet={onSet} />
			{carver === "" && <p class="trouble">Whose paper is it? Until “from” is filled in it bears no name.</p>}
		</>
	);
}
