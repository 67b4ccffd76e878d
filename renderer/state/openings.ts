/** Opening: a scan, a demo, a kept commission, the scan of a stone, the other one of a pair; and putting away. */

import { batch } from "@preact/signals";
import { type Commission, newCommission } from "../../core/plan/commission.ts";
import { readCommission } from "../../core/plan/readDocument.ts";
import type { Unit } from "../../core/scan/unit.ts";
import type { ScanGrant } from "../../electron/bridge/contract.ts";
import { demoCommission } from "../../seeds/demo.ts";
import type { Seed } from "../../seeds/index.ts";
import { Cancelled } from "../jobs/jobClient.ts";
import type { ScanShown } from "../jobs/shown.ts";
import { handleName, type ScanHandle } from "../jobs/sources.ts";
import { demoOf } from "./demos.ts";
import { hasHoles } from "./holdFast.ts";
import type { Keeper, KeptAs } from "./keeper.ts";
import { twinOf } from "./mirror.ts";
import type { Running } from "./running.ts";
import type { SessionTools } from "./sessionTools.ts";
import { withStanceSaid } from "./stance.ts";
import { troubleWords } from "./troubleWords.ts";
import { asLeft, holeShown, recents, setTrouble } from "./ui.ts";
import { begin } from "./undo.ts";
import type { WindowState } from "./windowState.ts";
import type { WorkOut } from "./workOut.ts";

interface Around {
	readonly state: WindowState;
	readonly running: Running;
	readonly workOut: WorkOut;
	readonly keeper: Keeper;
	/** Answers the reason when the change is refused. */
	change(what: string, recipe: (commission: Commission) => Commission): string | null;
}

export function createOpenings(
	{ state, running: { run, stop }, workOut, keeper, change }: Around,
	tools: SessionTools,
) {
	const {
		history,
		commission,
		scan,
		demo,
		stale,
		openTrouble,
		workTrouble,
		scanWanted,
		scanHeldHere,
		opens,
		forgetAnswers,
	} = state;
	/** Scans that came as files, by their fingerprints: a browser gives no lasting leave to read them again. */
	const files = new Map<string, ScanHandle>();
	/** Those of which the browser has a copy. */
	const copied = new Set<string>();
	const remember = (handle: ScanHandle, sha256: string): void => {
		if (handle.kind !== "file") return;
		files.set(sha256, handle);
		// Without a copy the scan is asked for again once this window has gone.
		tools.scans.keep(sha256, handle.file).then(
			() => {
				copied.add(sha256);
				if (scan.value?.sha256 === sha256) scanHeldHere.value = false;
			},
			() => {},
		);
	};
	const remembered = async (sha256: string): Promise<ScanHandle | null> => {
		const here = files.get(sha256);
		const file = here ? null : await tools.scans.find(sha256);
		if (file) copied.add(sha256);
		return here ?? (file && { kind: "file", file });
	};

	/** Takes an opened scan with its commission for the window's own. */
	const take = (opened: ScanShown, present: Commission, as: KeptAs & { readonly demo?: Seed }): void => {
		keeper.nowIfDue();
		batch(() => {
			scan.value = opened;
			history.value = begin({ ...present, scan: { ...present.scan, sha256: opened.sha256 } });
			forgetAnswers();
			holeShown.value = null;
			openTrouble.value = null;
			workTrouble.value = null;
			scanWanted.value = null;
			demo.value = as.demo ?? null;
			scanHeldHere.value = as.token === null && as.demo === undefined && !copied.has(opened.sha256);
			keeper.file(as);
		});
		// A demo that nobody has changed can be opened again at any time, and would only crowd what was worked on lately.
		if (as.demo === undefined) keeper.now();
		workOut.now();
	};

	async function opening(what: string, start: () => Promise<void>): Promise<void> {
		openTrouble.value = null;
		asLeft.value = null;
		opens.value = what;
		// A change just made must not stop the opening when its turn comes; it is worked out if the opening fails.
		workOut.drop();
		stop();
		try {
			await start();
		} catch (trouble) {
			if (trouble instanceof Cancelled) {
				if (commission.value && stale.value) workOut.now();
				return;
			}
			openTrouble.value = troubleWords(trouble);
			if (commission.value && stale.value) workOut.now();
		} finally {
			// Another opening may have taken its place.
			if (opens.value === what) opens.value = null;
		}
	}

	/** Reads a scan and remembers it, where only this window can read it again. */
	const readScan = async (handle: ScanHandle): Promise<ScanShown> => {
		const opened = await run("openScan", { handle }, "opening");
		remember(handle, opened.sha256);
		return opened;
	};

	const nameOf = (file: string): string => file.replace(/\.(stl|ply)$/i, "").slice(0, 120) || "commission";
	const grantHandle = (grant: ScanGrant | null): ScanHandle | null => grant && { kind: "grant", ...grant };
	const tokenOf = (handle: ScanHandle): string | null => (handle.kind === "grant" ? handle.token : null);

	const openScan = (handle: ScanHandle): Promise<void> =>
		opening(`Opening ${handleName(handle)}`, async () => {
			const waiting = scanWanted.value === null ? null : history.value;
			const opened = await readScan(handle);
			const name = handleName(handle);
			const wanted = waiting?.present;
			const same = wanted?.scan.sha256 === opened.sha256;
			if (wanted && (same || (wanted.scan.file === name && !hasHoles(wanted)))) {
				take(opened, wanted, { id: keeper.id(), token: tokenOf(handle), seen: keeper.seen() });
				if (!same) tellOfChange(name);
				return;
			}
			const fresh = withStanceSaid({ ...newCommission(name), name: nameOf(name) }, false);
			take(opened, fresh, { id: tools.newId(), token: tokenOf(handle) });
			if (wanted)
				setTrouble(
					"scan",
					wanted.scan.file === name
						? `${name} has changed since ${wanted.name} was drilled by it, and has begun a commission of its own. The other one still waits for its scan as it was.`
						: `${name} is not the scan of ${wanted.name}, ${wanted.scan.file}, and has begun a commission of its own. The other one still waits for its scan.`,
				);
		});

	const tellOfChange = (name: string): void =>
		setTrouble(
			"scan",
			`${name} has changed since this commission was last worked on: look whether datums and picked points still lie where they should.`,
		);

	const openDemo = (name: string): Promise<void> =>
		opening(`Making the scan of the demo, ${demoOf(name)?.title ?? name}`, async () => {
			const seed = demoOf(name);
			if (!seed) throw new Error(`There is no demo named ${name}.`);
			const opened = await run("openDemo", { name: seed.name }, "opening");
			take(opened, demoCommission(seed), { id: tools.newId(), token: null, demo: seed });
		});

	/** The other one of a pair, as a commission of its own on the same scan; the first is kept as it is. */
	const beginTwin = (): void => {
		const opened = scan.value;
		const first = commission.value;
		if (!opened || !first) return;
		keeper.now();
		take(opened, twinOf(first), { id: tools.newId(), token: keeper.token(), demo: demo.value ?? undefined });
		keeper.now();
	};

	/** The scan of a kept commission's stone, for the planner; where it cannot be read, the planner says that it is missing. */
	const holdStone = async (handle: ScanHandle): Promise<void> => {
		try {
			const { sha256 } = await run("openStone", { handle }, "opening");
			keeper.stone(sha256, tokenOf(handle));
		} catch (trouble) {
			if (trouble instanceof Cancelled) throw trouble;
			setTrouble("block", troubleWords(trouble));
		}
	};

	/** Opens a kept commission: its scans by the grants that came with it, or made again for a demo. */
	const openCommission = (
		text: string,
		grant: ScanGrant | null,
		as: string,
		seen: string | null = null,
		stoneGrant: ScanGrant | null = null,
	): Promise<void> =>
		opening("Opening the commission", async () => {
			const found = readCommission(text, "the commission");
			const stone = found.stone.scan && (grantHandle(stoneGrant) ?? (await remembered(found.stone.scan.sha256)));
			if (stone) await holdStone(stone);
			const seed = demoOf(found.scan.file);
			const handle = grantHandle(grant) ?? (await remembered(found.scan.sha256));
			if (handle) {
				const opened = await readScan(handle);
				const changed = found.scan.sha256 !== "" && found.scan.sha256 !== opened.sha256;
				// Holes belong to the figure that they were drilled for: the commission waits for that one.
				if (changed && hasHoles(found)) {
					awaitScan(found, { id: as, token: null, seen });
					openTrouble.value = `${handleName(handle)} has changed since holes were drilled by it, and they do not belong to what it is now. Put the file back as it was and open it; for the new one begin a commission of its own.`;
					return;
				}
				take(opened, found, { id: as, token: tokenOf(handle), seen });
				if (changed) tellOfChange(handleName(handle));
				return;
			}
			if (seed) {
				const opened = await run("openDemo", { name: seed.name }, "opening");
				if (opened.sha256 === found.scan.sha256) return take(opened, found, { id: as, token: null, seen, demo: seed });
			}
			awaitScan(found, { id: as, token: null, seen });
		});

	/** A commission without its scan: what was entered is there, and the scan is asked for. */
	const awaitScan = (found: Commission, as: KeptAs): void => {
		keeper.nowIfDue();
		batch(() => {
			history.value = begin(found);
			scan.value = null;
			forgetAnswers();
			scanWanted.value = found.scan.file;
			keeper.file(as);
		});
	};

	const openRecent = async (recent: string): Promise<void> => {
		try {
			// What is still held of it is newer than what is kept.
			await keeper.handOver();
			const { text, grant, stoneGrant, version, earlier } = await tools.call("recallCommission", { id: recent });
			await openCommission(text, grant, recent, version, stoneGrant);
			if (earlier)
				setTrouble(
					"scan",
					"The kept file of this commission was spoilt from outside. This is how it stood before the last session: look what is missing.",
				);
		} catch (trouble) {
			openTrouble.value = troubleWords(trouble);
		}
	};

	/** Back to the first screen. What is open has been kept and is offered there again. */
	const putAway = (): void => {
		keeper.nowIfDue();
		stop();
		workOut.drop();
		asLeft.value = null;
		batch(() => {
			history.value = null;
			scan.value = null;
			forgetAnswers();
			demo.value = null;
			stale.value = false;
			openTrouble.value = null;
			workTrouble.value = null;
			scanWanted.value = null;
		});
		// The list of what was worked on lately has changed with it.
		tools.call("hello", {}).then(
			({ recents: found }) => {
				recents.value = found;
			},
			(trouble: unknown) => {
				openTrouble.value = troubleWords(trouble);
			},
		);
	};

	/** Opens the scan of a stone and takes it for the commission's; the trouble in words, or null. */
	const openStone = async (handle: ScanHandle, given: Unit | null = null): Promise<string | null> => {
		try {
			const { name, sha256, unit: found } = await run("openStone", { handle }, "opening");
			keeper.stone(sha256, tokenOf(handle));
			remember(handle, sha256);
			const unit = given ?? found;
			return change(`stone: ${name}`, (c) => ({
				...c,
				stone: { ...c.stone, given: "scan", scan: { file: name, sha256, unit }, byHand: null },
			}));
		} catch (trouble) {
			if (trouble instanceof Cancelled) return null;
			return troubleWords(trouble);
		}
	};

	return { openScan, openDemo, openStone, openCommission, openRecent, beginTwin, putAway };
}
