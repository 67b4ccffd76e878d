/** What the window shows and where the carver is, none of which belongs to the commission. */

import { effect, signal } from "@preact/signals";
import type { FindingKind } from "../../core/scan/findings.ts";
import type { WindowLook } from "../../electron/bridge/contract.ts";
import type { Place } from "../banker/picker.ts";
import type { DisplayMesh } from "../jobs/displayMesh.ts";
import type { PageName } from "../jobs/shown.ts";

export const PAGES: readonly PageName[] = ["model", "stone", "points", "bench", "finish"];

export type Theme = "paper" | "slate";

/** What the next click on the model does. */
export type Picking =
	| { readonly kind: "datum"; readonly set: number; readonly index: 0 | 1 | 2; readonly onward: boolean }
	| { readonly kind: "point" }
	/** Ground where more points are wanted, fewer, or none. */
	| { readonly kind: "brush" }
	/** Two ends of a bridge. */
	| { readonly kind: "bridge" }
	| { readonly kind: "proof" }
	/** Points by which a datum set hangs on an earlier one. */
	| { readonly kind: "link"; readonly set: number }
	/** Two places of a calliper pair. */
	| { readonly kind: "cast" }
	/** A place of the figure that no flaw may come near. */
	| { readonly kind: "sound" }
	/** Two ends of the rule. */
	| { readonly kind: "rule" }
	/** Strokes of an area to be gilded. */
	| { readonly kind: "gild"; readonly area: number }
	/** Three places of the plane that the figure is to be stood on, or along which it is to be sawn. */
	| { readonly kind: "plane"; readonly to: "stand" | "saw" };

/** Findings of the scan's health, its pieces, its thin parts. */
export type SteppedThrough = FindingKind | "shells" | "thin";

/** A thing on the model that arrow keys move. */
export type Held =
	| { readonly kind: "datum"; readonly set: number; readonly index: 0 | 1 | 2 }
	| { readonly kind: "pick"; readonly index: number };

/** What colour says on the banker; a cover belongs to a round. */
export type Colouring =
	| { readonly kind: "plaster" }
	| { readonly kind: "scanned" }
	| { readonly kind: "thickness" }
	| { readonly kind: "curvature" }
	| { readonly kind: "curvature least" }
	| { readonly kind: "cover"; readonly round: number }
	| { readonly kind: "seat error" }
	| { readonly kind: "gap" }
	| { readonly kind: "ground" };

export interface CutOpen {
	/** x, y or z of the frame that is shown. */
	readonly axis: 0 | 1 | 2;
	/** Where along the model's extent, 0 to 1. */
	readonly share: number;
	/** Which part is taken away: false the one with the smaller coordinate. */
	readonly far: boolean;
}

export interface PointFilter {
	/** Words or a number. */
	readonly text: string;
	readonly round: number | null;
	readonly kind: "all" | "undercut" | "by eye" | "picked";
}

export const page = signal<PageName>("model");

/** The carver turns the book: a pick that was begun on another page ends with it. */
export function turnTo(next: PageName): void {
	if (next !== page.value) picking.value = null;
	page.value = next;
}
export const theme = signal<Theme>("paper");
export const bookFolded = signal(false);
export const tapeFolded = signal(false);
/** Number of the point that the pointer or the keyboard is on. */
export const pointed = signal<number | null>(null);
/** Number of the point that was clicked: its hole is shown cut open until another is clicked. */
export const holeShown = signal<number | null>(null);
/** First and last place, in the order of work, of the run brushed on the tape. */
export const run = signal<readonly [number, number] | null>(null);
export const picking = signal<Picking | null>(null);
/** Places picked for a calliper pair that has no reading yet, and the mesh that they lie on. */
export const castDraft = signal<{ readonly on: DisplayMesh; readonly places: readonly Place[] } | null>(null);
/** Places picked for the plane, and the mesh that they lie on. */
export const planeDraft = signal<{ readonly on: DisplayMesh; readonly places: readonly Place[] } | null>(null);
/** What of the scan is being stepped through, and at which place of it. */
export const stepping = signal<{ readonly what: SteppedThrough; readonly at: number } | null>(null);
/** Ends of the rule laid on the model, at most two, and the mesh that they lie on. */
export const ruleLaid = signal<{ readonly on: DisplayMesh; readonly places: readonly Place[] } | null>(null);
/** The model cut open by a plane square to an axis of what is shown; null: whole. */
export const cutOpen = signal<CutOpen | null>(null);
export const held = signal<Held | null>(null);
export const colouring = signal<Colouring>({ kind: "plaster" });
export const listShown = signal(false);
/** The bench view stands over the window. */
export const benchShown = signal(false);
/** The bench view is opened to read the proof marks. */
export const benchReadsMarks = signal(false);
/** Drill lines of all points, not only of the one or the run that is pointed at. */
export const allLines = signal(false);
export const pointFilter = signal<PointFilter>({ text: "", round: null, kind: "all" });
/** Messages next to what they are about, by place. */
export const troubles = signal<Readonly<Record<string, string>>>({});

/** The carver's own choice; null follows the system. */
const themeChosen = signal<Theme | null>(null);

/** The style sheet turns first: whoever hears of the theme draws in the colours that it reads from there. */
function wear(next: Theme): void {
	document.documentElement.dataset.theme = next;
	theme.value = next;
}

export function chooseTheme(chosen: Theme): void {
	themeChosen.value = chosen;
	wear(chosen);
}

/** Light or dark as the system is, for as long as the carver has not chosen. */
export function followSystemTheme(): void {
	const dark = matchMedia("(prefers-color-scheme: dark)");
	const follow = (): void => {
		if (themeChosen.value === null) wear(dark.matches ? "slate" : "paper");
	};
	dark.addEventListener("change", follow);
	follow();
}

/** Hints that have been read, by name. */
export const hintsRead = signal<ReadonlySet<string>>(new Set());
/** The help, and which part of it; null: not shown. */
export const helpShown = signal<string | null>(null);

/** Takes up how this person likes the window, and tells of every change from then on. */
export function rememberLook(kept: WindowLook, keep: (look: WindowLook) => void): void {
	if (kept.theme) chooseTheme(kept.theme);
	bookFolded.value = kept.bookFolded;
	tapeFolded.value = kept.tapeFolded;
	hintsRead.value = new Set(kept.hintsRead);
	let before = JSON.stringify(kept);
	effect(() => {
		const look: WindowLook = {
			theme: themeChosen.value,
			bookFolded: bookFolded.value,
			tapeFolded: tapeFolded.value,
			hintsRead: [...hintsRead.value],
		};
		const text = JSON.stringify(look);
		if (text !== before) keep(look);
		before = text;
	});
}

export function setTrouble(place: string, text: string | null): void {
	const { [place]: _, ...rest } = troubles.value;
	troubles.value = text === null ? rest : { ...rest, [place]: text };
}
export interface AsLeft {
	readonly name: string;
	/** Opens the file as it is, as a commission of its own. */
	anew(): void;
}

/** What is open was begun from a file that is older than it; null otherwise. */
export const asLeft = signal<AsLeft | null>(null);
/** Names of commissions that an earlier window could not keep and this one could. */
export const handedOver = signal<readonly string[]>([]);
/** Commissions worked on lately, newest first. */
export const recents = signal<readonly { id: string; name: string; scan: string; changed: string }[]>([]);
