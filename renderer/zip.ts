/** Several files as one ZIP archive, deflated by the browser itself (PKWARE's APPNOTE 6.3, the parts every reader knows). */

export interface ZipEntry {
	/** ASCII, no path. */
	readonly name: string;
	readonly bytes: Uint8Array<ArrayBuffer>;
}

const LOCAL_HEADER = 0x04034b50;
const DIRECTORY_HEADER = 0x02014b50;
const DIRECTORY_END = 0x06054b50;
const VERSION = 20;
const DEFLATED = 8;
/** 1 January 1980, the earliest day the format knows: the same maps give the same archive. */
const FIRST_DAY = 0x0021;

/** CRC-32 of the format (polynomial 0xedb88320, reflected). */
export function crc32(bytes: Uint8Array): number {
	let crc = 0xffffffff;
	for (const byte of bytes) {
		crc ^= byte;
		for (let bit = 0; bit < 8; bit++) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
	}
	return (crc ^ 0xffffffff) >>> 0;
}

async function deflated(bytes: Uint8Array<ArrayBuffer>): Promise<Uint8Array<ArrayBuffer>> {
	const stream = new Blob([bytes]).stream().pipeThrough(new CompressionStream("deflate-raw"));
	return new Uint8Array(await new Response(stream).arrayBuffer());
}

/** A block of little-endian fields: 2 or 4 bytes each, as `sizes` says. */
function fields(values: readonly (readonly [2 | 4, number])[]): Uint8Array<ArrayBuffer> {
	const view = new DataView(new ArrayBuffer(values.reduce((sum, [size]) => sum + size, 0)));
	let at = 0;
	for (const [size, value] of values) {
		if (size === 2) view.setUint16(at, value, true);
		else view.setUint32(at, value, true);
		at += size;
	}
	return new Uint8Array(view.buffer);
}

export async function zipped(entries: readonly ZipEntry[]): Promise<Uint8Array<ArrayBuffer>> {
	const parts: Uint8Array<ArrayBuffer>[] = [];
	const directory: Uint8Array<ArrayBuffer>[] = [];
	let offset = 0;
	for (const { name, bytes } of entries) {
		const packed = await deflated(bytes);
		const called = new TextEncoder().encode(name) as Uint8Array<ArrayBuffer>;
		const common: (readonly [2 | 4, number])[] = [
			[2, VERSION],
			[2, 0],
			[2, DEFLATED],
			[2, 0],
			[2, FIRST_DAY],
			[4, crc32(bytes)],
			[4, packed.length],
			[4, bytes.length],
			[2, called.length],
			[2, 0],
		];
		const local = fields([[4, LOCAL_HEADER], ...common]);
		parts.push(local, called, packed);
		directory.push(
			fields([[4, DIRECTORY_HEADER], [2, VERSION], ...common, [2, 0], [2, 0], [2, 0], [4, 0], [4, offset]]),
			called,
		);
		offset += local.length + called.length + packed.length;
	}
	const length = directory.reduce((sum, part) => sum + part.length, 0);
	const count = entries.length;
	const end = fields([
		[4, DIRECTORY_END],
		[2, 0],
		[2, 0],
		[2, count],
		[2, count],
		[4, length],
		[4, offset],
		[2, 0],
	]);
	return new Uint8Array(await new Blob([...parts, ...directory, end]).arrayBuffer());
}
