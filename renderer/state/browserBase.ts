/** The browser's own store of this origin: what it holds for the window outlives it. */

/** One table for work that could not be kept, one for scans that were chosen by hand. */
const TABLES = { held: ["id", "writer"], scans: "sha256" } as const;
export type TableName = keyof typeof TABLES;

const NAME = "puntello";
const VERSION = 2;

export const answerOf = <T>(request: IDBRequest<T>): Promise<T> =>
	new Promise((resolve, reject) => {
		request.onsuccess = () => resolve(request.result);
		request.onerror = () => reject(request.error);
	});

let base: Promise<IDBDatabase> | null = null;

function open(): Promise<IDBDatabase> {
	const request = indexedDB.open(NAME, VERSION);
	request.onupgradeneeded = () => {
		const has = request.result.objectStoreNames;
		for (const [name, keyPath] of Object.entries(TABLES))
			if (!has.contains(name)) request.result.createObjectStore(name, { keyPath: keyPath as string | string[] });
	};
	return answerOf(request);
}

async function opened(): Promise<IDBDatabase> {
	base ??= open();
	try {
		return await base;
	} catch (trouble) {
		base = null;
		throw trouble;
	}
}

/** Reads from the table. Rejects where the browser holds nothing. */
export const readFrom = async <T>(name: TableName, read: (table: IDBObjectStore) => IDBRequest<T>): Promise<T> =>
	answerOf(read((await opened()).transaction(name).objectStore(name)));

/** Changes the table, and returns once that is on the disk and not only in the browser's memory. */
export async function writeTo(name: TableName, deed: (table: IDBObjectStore) => void): Promise<void> {
	const step = (await opened()).transaction(name, "readwrite", { durability: "strict" });
	const done = new Promise<void>((resolve, reject) => {
		step.oncomplete = () => resolve();
		step.onabort = () => reject(step.error);
	});
	deed(step.objectStore(name));
	await done;
}
