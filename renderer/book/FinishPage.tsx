/** Page 5: grades, gilded areas, fixing, the quote and the cautions. */

import { CautionsCard } from "./finish/CautionsCard.tsx";
import { FixingCard } from "./finish/FixingCard.tsx";
import { GildedCard } from "./finish/GildedCard.tsx";
import { GradesCard } from "./finish/GradesCard.tsx";
import { QuoteCard } from "./finish/QuoteCard.tsx";
import { Gradually } from "./Gradually.tsx";

export function FinishPage() {
	return (
		<Gradually>
			<GradesCard />
			<GildedCard />
			<FixingCard />
			<QuoteCard />
			<CautionsCard />
		</Gradually>
	);
}
