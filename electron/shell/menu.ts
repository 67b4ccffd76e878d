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
	const file: MenuItemConstructorOptions = {
		label: "&File",
		submenu: [
			{ label: "&Open a scan or commission…", accelerator: "CmdOrCtrl+O", click: deeds.openFile },
			{ label: "Show where commissions are &kept", click: deeds.showKept },
			{ type: "separator" },
			mac ? { role: "close" } : { role: "quit" },
		],
	};
	const middle: MenuItemConstructorOptions[] = [file, { role: "editMenu" }, { label: "&View", submenu: view }];
	return mac
		? [{ role: "appMenu" }, ...middle, { role: "windowMenu" }]
		: [...middle, { role: "windowMenu" }, { role: "help", submenu: [{ role: "about" }] }];
}
