/** A place in the stone: how far from left, front and bed. */

import { LengthField } from "../fields/LengthField.tsx";

type Place = [number, number, number];
const FROM = ["left", "front", "bed"] as const;

export function PlaceFields(props: {
	readonly label: string;
	readonly place: readonly [number, number, number];
	onSet(place: Place): string | null;
}) {
	const { label, place, onSet } = props;
	return (
		<>
			{FROM.map((face, k) => (
				<LengthField
					key={face}
					label={`${label}, from ${face}`}
					mm={place[k]}
					least={-20000}
					onSet={(mm) => {
						const next: Place = [place[0], place[1], place[2]];
						next[k] = mm;
						return onSet(next);
					}}
				/>
			))}
		</>
	);
}
