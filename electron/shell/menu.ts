/** The menu bar, after each platform's conventions; what the window itself offers is not repeated here. */

import type { MenuItemConstructorOptions } from "electron";

export interface MenuDeeds {
	openFile(): void;
	showKept(): void;
}

export function menuTemplate(deeds: MenuDeeds, platform: string, isPackaged: boolean): MenuItemConstructorOptions[] {
	const mac = platform === "darwin";
	const view: MenuItemConstructorOptions[] = [
		{ role: "resetZoom" },
		{ role: "zoomIn" },
		{ role: "zoomOut" },
		{ type: "separator" },
		{ role: "togglefullscreen" },
	];
	if (!isPackaged) view.push({ type: "separator" }, { role: "reload" }, { role: "toggleDevTools" });
	// Elsewhere the system shows them on the program's icon.
	const lately: MenuItemConstructorOptions = { role: "recentDocuments", submenu: [{ role: "clearRecentDocuments" }] };
	const file: MenuItemConstructorOptions = {
		label: mac ? "File" : "&File",
		submenu: [
			{ label: mac ? "Open…" : "&Open a scan or commission…", accelerator: "CmdOrCtrl+O", click: deeds.openFile },
			...(mac ? [lately] : []),
			{ label: mac ? "Show Kept Commissions in Finder" : "Show where commissions are &kept", click: deeds.showKept },
			{ type: "separator" },
			mac ? { role: "close" } : { role: "quit" },
		],
	};
	const middle: MenuItemConstructorOptions[] = [
		file,
		{ role: "editMenu" },
		{ label: mac ? "View" : "&View", submenu: view },
		{ role: "windowMenu" },
	];
	// A Mac has the program's own menu first, with what the others keep under Help.
	return mac ? [{ role: "appMenu" }, ...middle] : [...middle, { role: "help", submenu: [{ role: "about" }] }];
}
