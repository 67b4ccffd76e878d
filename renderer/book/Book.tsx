/** The day book: the commission's name, what can be undone, and the five pages in the order of the job. */

import type { FunctionComponent } from "preact";
import { useLayoutEffect, useRef } from "preact/hooks";
import type { PageName } from "../jobs/shown.ts";
import { useSession } from "../state/context.ts";
import { saveAs } from "../state/files.ts";
import { AGAIN } from "../state/outdated.ts";
import { asLeft, bookFolded, chooseTheme, handedOver, helpShown, PAGES, page, theme, turnTo } from "../state/ui.ts";
import { PAGE_HINTS, PAGE_PURPOSES, PAGE_QUESTIONS, PAGE_TITLES, pageAnswer } from "../words/pageAnswers.ts";
import { BenchPage } from "./BenchPage.tsx";
import { FinishPage } from "./FinishPage.tsx";
import { Hint } from "./Hint.tsx";
import { ModelPage } from "./ModelPage.tsx";
import { PointsPage } from "./PointsPage.tsx";
import { StonePage } from "./StonePage.tsx";
import { Work } from "./Work.tsx";

const CONTENT: Readonly<Record<PageName, FunctionComponent>> = {
	model: ModelPage,
	stone: StonePage,
	points: PointsPage,
	bench: BenchPage,
	finish: FinishPage,
};

export function Book() {
	const session = useSession();
	if (bookFolded.value)
		return (
			<nav class="book folded" aria-label="day book, folded">
				<div class="book-head">
					<Fold />
				</div>
				<div class="spine">
					{PAGES.map((name, i) => (
						<button
							type="button"
							key={name}
							aria-label={`${i + 1} ${PAGE_TITLES[name]}`}
							title={PAGE_TITLES[name]}
							aria-current={page.value === name ? "page" : undefined}
							onClick={() => {
								turnTo(name);
								bookFolded.value = false;
							}}
						>
							{i + 1}
						</button>
					))}
				</div>
			</nav>
		);
	return (
		<aside class="book" aria-label="day book">
			<Head />
			{session.scan.value ? (
				<div class="pages">
					{PAGES.map((name, i) => (
						<Page key={name} name={name} number={i + 1} />
					))}
				</div>
			) : (
				<Contents />
			)}
			<Work />
		</aside>
	);
}

/** Nothing is open: what the pages will answer. */
function Contents() {
	return (
		<ol class="pages contents">
			{PAGES.map((name, i) => (
				<li class="page" key={name}>
					<span class="page-number">{i + 1}</span>
					<h2 class="contents-title">{PAGE_TITLES[name]}</h2>
					<p class="answer">{PAGE_QUESTIONS[name]}</p>
					<p class="reason">{PAGE_PURPOSES[name]}</p>
				</li>
			))}
		</ol>
	);
}

function Fold() {
	const folded = bookFolded.value;
	const words = folded ? "unfold the day book" : "fold the day book";
	return (
		<button
			type="button"
			class="fold"
			aria-label={words}
			title={words}
			aria-expanded={!folded}
			onClick={() => {
				bookFolded.value = !folded;
			}}
		>
			<svg viewBox="0 0 18 18" aria-hidden="true" fill="none" stroke="currentColor" stroke-width="1.6">
				{folded ? (
					<path d="M9 4 C6 2.5 4 2.5 2 3 V14.5 C4 14 6 14 9 15.5 C12 14 14 14 16 14.5 V3 C14 2.5 12 2.5 9 4 Z M9 4 V15.5" />
				) : (
					<path d="M4 2.5 H14 V15.5 H4 Z M7 2.5 V15.5" />
				)}
			</svg>
		</button>
	);
}

/** Paper for a bright workshop, slate for a dark one. */
function ThemeSwitch() {
	const slate = theme.value === "slate";
	const words = slate ? "change to paper" : "change to slate";
	return (
		<button
			type="button"
			class="fold theme"
			aria-label={words}
			title={words}
			onClick={() => {
				chooseTheme(slate ? "paper" : "slate");
			}}
		>
			<svg viewBox="0 0 18 18" aria-hidden="true" stroke="currentColor" stroke-width="1.6">
				<path d="M3 2.5 H15 V15.5 H3 Z" fill="none" />
				<path d="M3 15.5 V2.5 L15 15.5 Z" fill="currentColor" />
			</svg>
		</button>
	);
}

/** Undo words of more letters may be cut; they stand in full beside it while it is pointed at or has the keyboard. */
const CUT_FROM = 14;

const putAwayWords = (scanHeldHere: boolean): string =>
	`the first screen; the work stays kept${scanHeldHere ? ", its scan as long as this window is open: then the file is asked for again" : ""}`;

function Head() {
	const session = useSession();
	const commission = session.commission.value;
	const past = session.history.value?.past.at(-1);
	const future = session.history.value?.future[0];
	const kept = session.kept.value;
	return (
		<header class="book-head">
			<Fold />
			<ThemeSwitch />
			{commission ? (
				<input
					class="book-name"
					aria-label="name of the commission"
					value={commission.name}
					maxLength={120}
					onChange={(event) => {
						const field = event.currentTarget;
						const name = field.value.trim();
						if (name === "") field.value = commission.name;
						else session.change(`name it ${name}`, (c) => ({ ...c, name }));
					}}
				/>
			) : (
				<p class="book-name">Day book</p>
			)}
			<div class="book-kept">
				<span class="book-undo">
					<span class="in-full" data-words={past && past.words.length > CUT_FROM ? `undo: ${past.words}` : undefined}>
						<button
							type="button"
							class="word"
							disabled={!past}
							title={past ? `Ctrl+Z: undo: ${past.words}` : "Ctrl+Z"}
							onClick={session.undo}
						>
							{past ? `undo: ${past.words}` : "nothing to undo"}
						</button>
					</span>
					{future && (
						<button type="button" class="word" title={`Ctrl+Shift+Z: redo: ${future.words}`} onClick={session.redo}>
							redo
						</button>
					)}
				</span>
				{commission && (
					<span class="book-acts">
						<span class={kept.state === "not kept" ? "wants" : ""} title={kept.trouble}>
							{kept.state}
						</span>
						<button type="button" class="word" title="Ctrl+S" onClick={() => void saveAs(commission)}>
							save as
						</button>
						<button
							type="button"
							class="word"
							title={putAwayWords(session.scanHeldHere.value)}
							onClick={session.putAway}
						>
							put away
						</button>
					</span>
				)}
				<button
					type="button"
					class="word"
					title="F1"
					aria-expanded={helpShown.value !== null}
					onClick={() => {
						helpShown.value = helpShown.value === null ? "commission" : null;
					}}
				>
					help
				</button>
			</div>
			<News />
			{session.keptApart.value !== null && (
				<p class="trouble" role="alert">
					{session.keptApart.value}
				</p>
			)}
			{kept.state === "not kept" && (
				<p class="trouble" role="alert">
					{kept.trouble}
				</p>
			)}
		</header>
	);
}

/** News about what is open, with a word to put it away. */
function News() {
	const names = handedOver.value;
	const left = asLeft.value;
	return (
		<>
			{names.length > 0 && (
				<p class="reason" role="status">
					Your browser held what could not be kept before: {names.join(", ")}. It is kept now, and stands on the first
					screen among what was on the banker lately.{" "}
					<button
						type="button"
						class="word"
						onClick={() => {
							handedOver.value = [];
						}}
					>
						all right
					</button>
				</p>
			)}
			{left !== null && (
				<p class="reason" role="status">
					You have worked on {left.name} since this file was written, and go on where you left it.{" "}
					<button type="button" class="word" onClick={left.anew}>
						open the file as it is
					</button>{" "}
					<button
						type="button"
						class="word"
						onClick={() => {
							asLeft.value = null;
						}}
					>
						all right
					</button>
				</p>
			)}
		</>
	);
}

function Page({ name, number }: { name: PageName; number: number }) {
	const session = useSession();
	const open = page.value === name;
	const answer = pageAnswer(
		name,
		session.scan.value,
		session.commission.value,
		session.answers.value,
		session.units.value,
		session.awaited,
	);
	const Content = CONTENT[name];
	const body = useRef<HTMLDivElement>(null);
	useLayoutEffect(() => {
		if (open && body.current) body.current.scrollTop = 0;
	}, [open]);
	return (
		<section class={open ? "page open" : "page"} data-page={name}>
			<h2>
				<button
					type="button"
					class="page-head"
					aria-expanded={open}
					onClick={() => {
						turnTo(name);
					}}
				>
					<span class="page-number">{number}</span>
					<span class="page-title">{PAGE_TITLES[name]}</span>
					<span class={`page-answer${answer.wants ? " wants" : ""}`}>
						{answer.isOld ? (
							<em class="again">
								{answer.words}, {AGAIN}
							</em>
						) : (
							answer.words
						)}
					</span>
				</button>
			</h2>
			{open && session.commission.value && (
				<div class="page-body" ref={body}>
					<Hint name={name} words={PAGE_HINTS[name]} />
					<Content />
				</div>
			)}
		</section>
	);
}
