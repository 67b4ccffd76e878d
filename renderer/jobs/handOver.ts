/** An answer as the window gets it: without the planner's heavy arrays, or with copies of those that are drawn. */

import type { GildedArea, Outcome, StoneAnswer } from "../../core/plan/answers.ts";
import type { Answer } from "../../core/plan/answersByStages.ts";
import type { RoundReport } from "../../core/pointing/rounds.ts";
import type { Issue } from "../../core/refusal.ts";
import type { AnswersShown, CoverMap, FinishShown, MapsShown, StoneShown } from "./shown.ts";
import { modelShown } from "./standing.ts";

/** What changes in the window, and the buffers that go along. */
export interface HandedOver {
	readonly answers: Partial<AnswersShown>;
	readonly maps: Partial<MapsShown>;
	readonly transfer: Transferable[];
}

export function handOver(answer: Answer): HandedOver {
	const nothing: HandedOver = { answers: {}, maps: {}, transfer: [] };
	const drawn = (maps: Partial<MapsShown>, ...arrays: (ArrayBufferView<ArrayBuffer> | null)[]): HandedOver => ({
		answers: {},
		maps,
		transfer: arrays.flatMap((array) => (array ? [array.buffer] : [])),
	});
	switch (answer.name) {
		case "model":
			return { ...nothing, answers: { model: answer.value && modelShown(answer.value) } };
		case "stone":
			return { ...nothing, answers: { stone: answer.value && lightStone(answer.value) } };
		case "datumSets": {
			const datumSets = answer.value.map(({ name, suggested, places, link }) => {
				return { name, suggested, places, linkTo: link?.to ?? null };
			});
			return { ...nothing, answers: { datumSets } };
		}
		case "finish": {
			const finish = answer.value && { ...answer.value, gilded: answer.value.gilded.map(lightArea) };
			return { ...nothing, answers: { finish } };
		}
		case "index":
			return nothing;
		case "field": {
			const { value } = answer;
			const k1 = value && Float32Array.from(value.k1);
			const k2 = value && Float32Array.from(value.k2);
			const direction1 = value && Int8Array.from(value.direction1, (x) => Math.round(127 * x));
			return drawn({ k1, k2, direction1 }, k1, k2, direction1);
		}
		case "seatError": {
			const seatError = answer.value && Float32Array.from(answer.value);
			return drawn({ seatError }, seatError);
		}
		case "rounds": {
			const covers = answer.value.map(coverMap);
			return drawn({ covers }, ...covers.flatMap(({ cover, ground }) => [cover, ground]));
		}
		default:
			return { ...nothing, answers: { [answer.name]: answer.value } };
	}
}

/** Over all areas, the share of every vertex's ground that is to be gilded. */
export function handOverGilded(gilded: readonly Outcome<GildedArea>[]): HandedOver {
	const all = gildedMap(gilded);
	return { answers: {}, maps: { gilded: all }, transfer: all ? [all.buffer] : [] };
}

/** A gilded area without its arrays. */
const lightArea = ({ answer, issue }: Outcome<GildedArea>): FinishShown["gilded"][number] =>
	answer
		? {
				answer: { name: answer.name, leaf: answer.leaf, area: answer.region.area, lost: answer.region.lost },
				issue: null,
			}
		: { answer: null, issue: issue as Issue };

function gildedMap(gilded: readonly Outcome<GildedArea>[]): Float32Array<ArrayBuffer> | null {
	const areas = gilded.flatMap(({ answer }) => (answer ? [answer.marked] : []));
	if (areas.length === 0) return null;
	const all = Float32Array.from(areas[0]);
	for (const marked of areas.slice(1)) for (let v = 0; v < all.length; v++) all[v] = Math.max(all[v], marked[v]);
	return all;
}

/** Without what only the planner needs: hulls, and the stone's scan but for what it says of the stone. */
function lightStone({ hull: _, held, scanned, ...rest }: StoneAnswer): StoneShown {
	return {
		...rest,
		corners: held.vertices,
		scanned: scanned && { volume: scanned.volume, over: scanned.over, hollow: scanned.hollow },
	};
}

function coverMap({ cover, byEye, unreached }: RoundReport): CoverMap {
	const ground = new Uint8Array(cover.length);
	for (let i = 0; i < ground.length; i++) ground[i] = unreached[i] ? 2 : byEye[i] ? 1 : 0;
	return { cover: Float32Array.from(cover), ground };
}
