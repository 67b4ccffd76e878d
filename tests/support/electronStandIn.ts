/**
 * Stands in for the `electron` module where its binary is not to be had: it remembers what the shell's own code asks of it
 * and lets a test play the part of the browser. It decides nothing itself, so that a missing guard shows.
 */

import { EventEmitter } from "node:events";

type Listener = (...parameters: never[]) => unknown;
type Handler = (request: Request) => Response | Promise<Response>;

export class FrameStandIn {
	url: string;
	constructor(url: string) {
		this.url = url;
	}
}

export class ContentsStandIn extends EventEmitter {
	readonly mainFrame = new FrameStandIn("");
	openWindow: ((details: { url: string }) => { action: string }) | null = null;
	reloads = 0;
	printAnswer: [boolean, string] = [true, ""];
	setWindowOpenHandler(handler: (details: { url: string }) => { action: string }): void {
		this.openWindow = handler;
	}
	reload(): void {
		this.reloads++;
	}
	print(_options: unknown, done: (success: boolean, reason: string) => void): void {
		done(...this.printAnswer);
	}
}

export class SessionStandIn {
	readonly handlers = new Map<string, Handler>();
	readonly listeners = new Map<string, Listener>();
	readonly protocol = {
		handle: (scheme: string, handler: Handler): void => void this.handlers.set(scheme, handler),
	};
	permissionRequest: Listener | null = null;
	permissionCheck: Listener | null = null;
	devicePermission: Listener | null = null;
	beforeRequest: ((details: { url: string }, done: (answer: { cancel: boolean }) => void) => void) | null = null;
	readonly webRequest = {
		onBeforeRequest: (listener: SessionStandIn["beforeRequest"]): void => {
			this.beforeRequest = listener;
		},
	};
	setPermissionRequestHandler(handler: Listener): void {
		this.permissionRequest = handler;
	}
	setPermissionCheckHandler(handler: Listener): void {
		this.permissionCheck = handler;
	}
	setDevicePermissionHandler(handler: Listener): void {
		this.devicePermission = handler;
	}
	setDisplayMediaRequestHandler(): void {}
	on(event: string, listener: Listener): void {
		this.listeners.set(event, listener);
	}
	/** Whether a page of this session could fetch that address. */
	lets(url: string): boolean {
		let cancelled = false;
		this.beforeRequest?.({ url }, ({ cancel }) => {
			cancelled = cancel;
		});
		return !cancelled;
	}
}

interface StandInWish {
	/** Where the program lies: its dist/window is served. */
	readonly appPath: string;
	readonly documents: string;
	/** False where another instance runs already. */
	readonly first?: boolean;
}

export class AppStandIn extends EventEmitter {
	readonly isPackaged = true;
	readonly paths: Map<string, string>;
	sandboxed = false;
	quits = 0;
	lockData: unknown = null;
	/** Paths told to the system as worked on lately. */
	readonly recent: string[] = [];
	ready = false;
	readonly getAppPath: () => string;
	private readonly first: boolean;
	constructor({ appPath, documents, first = true }: StandInWish) {
		super();
		this.getAppPath = () => appPath;
		this.paths = new Map([["documents", documents]]);
		this.first = first;
	}
	async whenReady(): Promise<void> {
		this.ready = true;
	}
	isReady = (): boolean => this.ready;
	enableSandbox(): void {
		this.sandboxed = true;
	}
	requestSingleInstanceLock(data: unknown): boolean {
		this.lockData = data;
		return this.first;
	}
	getVersion = (): string => "9.9.9";
	getPath = (name: string): string => this.paths.get(name) ?? "";
	setPath(name: string, path: string): void {
		this.paths.set(name, path);
	}
	addRecentDocument(path: string): void {
		this.recent.push(path);
	}
	quit(): void {
		this.quits++;
	}
}

export class WindowStandIn extends EventEmitter {
	readonly webContents = new ContentsStandIn();
	readonly options: Readonly<Record<string, unknown>>;
	readonly loaded: string[] = [];
	destroyed = false;
	focused = 0;
	bounds = { x: 10, y: 20, width: 1000, height: 700 };
	constructor(options: Record<string, unknown>) {
		super();
		this.options = options;
	}
	async loadURL(url: string): Promise<void> {
		this.loaded.push(url);
		this.webContents.mainFrame.url = url;
	}
	show(): void {}
	maximize(): void {}
	restore(): void {}
	focus(): void {
		this.focused++;
	}
	isMinimized = (): boolean => false;
	isMaximized = (): boolean => false;
	isDestroyed = (): boolean => this.destroyed;
	getNormalBounds = () => this.bounds;
	destroy(): void {
		this.destroyed = true;
	}
}

export function createElectronStandIn(wish: StandInWish) {
	const app = new AppStandIn(wish);
	const windows: WindowStandIn[] = [];
	class BrowserWindow extends WindowStandIn {
		constructor(options: Record<string, unknown>) {
			super(options);
			windows.push(this);
			app.emit("web-contents-created", {}, this.webContents);
		}
	}

	const ipcHandlers = new Map<string, (event: unknown, ...parameters: unknown[]) => unknown>();
	const schemes: { scheme: string; privileges: Record<string, boolean> }[] = [];
	const defaultSession = new SessionStandIn();
	const partitions = new Map<string, SessionStandIn>();
	const answers = {
		open: { canceled: true, filePaths: [] as string[] },
		save: { canceled: true, filePath: "" },
		/** Which button of a message is pressed. */
		message: 0,
	};
	const messages: string[] = [];
	const exposed: Record<string, unknown> = {};
	const menus: unknown[] = [];
	/** What keeps the screen awake, by id; null once it has been let go. */
	const awake: (string | null)[] = [];
	const displays = [{ workArea: { x: 0, y: 0, width: 1920, height: 1080 } }];

	/** What the sandboxed page's call becomes: its request is cloned on the way in, the answer on the way out. */
	async function invoke(event: { sender: unknown; senderFrame: unknown }, ...parameters: unknown[]): Promise<unknown> {
		const [channel, ...rest] = parameters;
		const handler = ipcHandlers.get(channel as string);
		if (!handler) throw new Error(`no handler for ${String(channel)}`);
		return structuredClone(await handler(event, ...rest.map((part) => structuredClone(part))));
	}

	const module: Readonly<Record<string, unknown>> = {
		app,
		BrowserWindow,
		ipcMain: {
			handle: (channel: string, handler: (event: unknown, ...parameters: unknown[]) => unknown): void =>
				void ipcHandlers.set(channel, handler),
		},
		ipcRenderer: {
			invoke: (...parameters: unknown[]) =>
				invoke({ sender: windows[0].webContents, senderFrame: windows[0].webContents.mainFrame }, ...parameters),
		},
		contextBridge: {
			exposeInMainWorld: (name: string, value: unknown): void => {
				exposed[name] = value;
			},
		},
		protocol: {
			registerSchemesAsPrivileged: (list: typeof schemes): void => void schemes.push(...list),
		},
		session: {
			defaultSession,
			fromPartition: (name: string): SessionStandIn => {
				const made = partitions.get(name) ?? new SessionStandIn();
				partitions.set(name, made);
				return made;
			},
		},
		dialog: {
			showOpenDialog: async () => answers.open,
			showSaveDialog: async () => answers.save,
			showMessageBox: async (...parameters: unknown[]) => {
				messages.push((parameters[parameters.length - 1] as { message: string }).message);
				return { response: answers.message };
			},
			showMessageBoxSync: (...parameters: unknown[]) => {
				messages.push((parameters[parameters.length - 1] as { message: string }).message);
				return answers.message;
			},
		},
		powerSaveBlocker: {
			start: (kind: string): number => awake.push(kind) - 1,
			stop: (id: number): void => {
				awake[id] = null;
			},
		},
		nativeTheme: { shouldUseDarkColors: false },
		screen: { getAllDisplays: () => displays },
		shell: { openPath: async () => "" },
		Menu: {
			buildFromTemplate: (template: unknown) => template,
			setApplicationMenu: (menu: unknown): void => void menus.push(menu),
		},
	};
	return {
		module,
		app,
		windows,
		schemes,
		defaultSession,
		partitions,
		answers,
		messages,
		awake,
		exposed,
		menus,
		displays,
		ipcHandlers,
		invoke,
	};
}
export type ElectronStandIn = ReturnType<typeof createElectronStandIn>;
