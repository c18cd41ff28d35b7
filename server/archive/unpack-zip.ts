/**
 * Unpacks a zip file from outside. Nothing is inflated beyond the size that its directory states, and what it states is looked at before:
 * a library that trusts stated sizes can be kept busy for minutes by a file of a few kilobytes.
 *
 * Layout: APPNOTE.TXT of PKWARE, 4.3.7 local file header, 4.3.12 central directory, 4.3.16 end of central directory.
 */
import { promisify } from 'node:util';
import { crc32, inflateRaw } from 'node:zlib';

const inflate = promisify(inflateRaw);

const LOCAL = 0x04034b50;
const CENTRAL = 0x02014b50;
const END = 0x06054b50;
const END_BYTES = 22;
/** The comment behind the end record is at most this long. */
const MOST_COMMENT = 0xffff;

/** One file of a zip. */
export interface ZipEntry {
  readonly name: string;
  /** Stated size when unpacked; no more than this is ever inflated. */
  readonly bytes: number;
  readonly packed: Uint8Array;
  readonly isDeflated: boolean;
  /** Stated sum of the unpacked bytes, CRC-32. */
  readonly crc32: number;
}

/**
 * The directory of a zip file.
 * @throws RangeError when it is none, is one that is split or larger than 4 GB, names a file twice, or its files overlap
 */
export function zipEntries(zip: Uint8Array): readonly ZipEntry[] {
  const view = new DataView(zip.buffer, zip.byteOffset, zip.byteLength);
  const end = endOf(view);
  const count = view.getUint16(end + 10, true);
  if (count !== view.getUint16(end + 8, true)) throw new RangeError('the zip file is split');
  let at = view.getUint32(end + 16, true);
  const entries: ZipEntry[] = [];
  const names = new Set<string>();
  const taken: (readonly [from: number, to: number])[] = [];
  for (let i = 0; i < count; i++) {
    expectSignature(view, at, CENTRAL);
    const method = view.getUint16(at + 10, true);
    const packedSize = view.getUint32(at + 20, true);
    const nameLength = view.getUint16(at + 28, true);
    const local = view.getUint32(at + 42, true);
    const name = String.fromCharCode(...slice(zip, at + 46, nameLength));
    if (method !== 0 && method !== 8) throw new RangeError(`${name} is packed in a way that is not known`);
    if (names.has(name)) throw new RangeError(`${name} is there twice`);
    names.add(name);
    expectSignature(view, local, LOCAL);
    const from = local + 30 + view.getUint16(local + 26, true) + view.getUint16(local + 28, true);
    entries.push({
      name,
      bytes: view.getUint32(at + 24, true),
      packed: slice(zip, from, packedSize),
      isDeflated: method === 8,
      crc32: view.getUint32(at + 16, true),
    });
    taken.push([local, from + packedSize]);
    at += 46 + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  // Files that share their bytes would unpack to far more than was sent.
  taken.sort(([a], [b]) => a - b);
  if (taken.some(([from], i) => i > 0 && from < taken[i - 1]![1]))
    throw new RangeError('files in it overlap');
  return entries;
}

/** A file of a zip as it was before it was packed. @throws Error when it is damaged, or of another size or sum than stated */
export async function unpackEntry(entry: ZipEntry): Promise<Uint8Array> {
  const { name, bytes, packed, isDeflated } = entry;
  const unpacked = isDeflated ? await inflate(packed, { maxOutputLength: Math.max(1, bytes) }) : packed;
  if (unpacked.length !== bytes) throw new RangeError(`${name} has another size than is stated`);
  if (crc32(unpacked) !== entry.crc32) throw new RangeError(`${name} has another sum than is stated`);
  return new Uint8Array(unpacked.buffer, unpacked.byteOffset, unpacked.byteLength);
}

function endOf(view: DataView): number {
  const least = Math.max(0, view.byteLength - END_BYTES - MOST_COMMENT);
  for (let at = view.byteLength - END_BYTES; at >= least; at--)
    if (view.getUint32(at, true) === END) return at;
  throw new RangeError('there is no directory in it');
}

function expectSignature(view: DataView, at: number, signature: number): void {
  if (at + 46 > view.byteLength || view.getUint32(at, true) !== signature)
    throw new RangeError('its directory leads nowhere');
}

function slice(zip: Uint8Array, from: number, length: number): Uint8Array {
  if (from + length > zip.length) throw new RangeError('a file in it is cut off');
  return zip.subarray(from, from + length);
}
