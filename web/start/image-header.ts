/** What a file says of the image in it before anything of it is decoded. */

/** Kinds of images that are read. */
type ImageKind = 'PNG' | 'JPEG' | 'SVG';

/** An image that may be decoded; of one made of lines no size in pixels is known. */
export interface ImageHeader {
  readonly kind: ImageKind;
  readonly size: { readonly width: number; readonly height: number } | null;
}

/** What is wrong with a file, and at which byte, counted from 0. */
export type ImageFault =
  /** Neither PNG nor JPEG nor SVG. */
  | { readonly kind: 'no-image' }
  /** It ends, or says something else, where its size should stand. */
  | { readonly kind: 'no-size'; readonly image: ImageKind; readonly byte: number }
  | { readonly kind: 'too-large'; readonly image: ImageKind; readonly width: number; readonly height: number }
  /** Its header is right, and the browser cannot draw what follows. */
  | { readonly kind: 'not-drawn'; readonly image: ImageKind };

export type ReadHeader =
  | { readonly ok: true; readonly value: ImageHeader }
  | { readonly ok: false; readonly error: ImageFault };

/** Most pixels of an image that is decoded. */
export const MOST_PIXELS = 40_000_000;
/** So many bytes of a file are looked through for its size. */
export const HEADER_BYTES = 2_000_000;

const PNG = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
const IHDR = [0x49, 0x48, 0x44, 0x52];

/**
 * Kind and size of an image from the first bytes of its file, {@link HEADER_BYTES} at most; or what is wrong with them.
 * Sources: ISO/IEC 15948 (PNG), 5.2 and 11.2.2; ITU-T T.81 (JPEG), B.1.1 and B.2.2. Rules X114 and X115.
 */
export function readImageHeader(bytes: Uint8Array): ReadHeader {
  if (startsWith(bytes, PNG, 0)) return sized('PNG', pngSize(bytes));
  if (bytes[0] === 0xff && bytes[1] === 0xd8) return sized('JPEG', jpegSize(bytes));
  const text = new TextDecoder().decode(bytes.subarray(0, 4000));
  if (/^\ufeff?\s*(?:<[?!][^>]*>\s*)*<svg[\s>]/i.test(text))
    return { ok: true, value: { kind: 'SVG', size: null } };
  return { ok: false, error: { kind: 'no-image' } };
}

/** A size, or the byte at which none stands. */
type FoundSize = { readonly width: number; readonly height: number } | number;

function sized(kind: ImageKind, found: FoundSize): ReadHeader {
  if (typeof found === 'number') return { ok: false, error: { kind: 'no-size', image: kind, byte: found } };
  if (found.width * found.height > MOST_PIXELS)
    return { ok: false, error: { kind: 'too-large', image: kind, ...found } };
  return { ok: true, value: { kind, size: found } };
}

function startsWith(bytes: Uint8Array, start: readonly number[], at: number): boolean {
  return start.every((byte, i) => bytes[at + i] === byte);
}

function pngSize(bytes: Uint8Array): FoundSize {
  if (!startsWith(bytes, IHDR, 12)) return 12;
  if (bytes.length < 24) return bytes.length;
  const view = new DataView(bytes.buffer, bytes.byteOffset);
  const [width, height] = [view.getUint32(16), view.getUint32(20)];
  if (width === 0) return 16;
  return height === 0 ? 20 : { width, height };
}

/** Walks from marker to marker until one begins a frame. */
function jpegSize(bytes: Uint8Array): FoundSize {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  let at = 2;
  while (at + 4 <= bytes.length) {
    if (bytes[at] !== 0xff) return at;
    const marker = bytes[at + 1]!;
    if (marker === 0xff) {
      // Any number of these may stand before a marker.
      at += 1;
      continue;
    }
    if (marker === 0x01 || (marker >= 0xd0 && marker <= 0xd7)) {
      at += 2;
      continue;
    }
    // The image itself, or its end, before a frame.
    if (marker === 0xda || marker === 0xd9) return at;
    const length = view.getUint16(at + 2);
    if (length < 2) return at + 2;
    const isFrame = marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc;
    if (isFrame) {
      if (at + 9 > bytes.length) return bytes.length;
      const [height, width] = [view.getUint16(at + 5), view.getUint16(at + 7)];
      if (height === 0) return at + 5;
      return width === 0 ? at + 7 : { width, height };
    }
    at += 2 + length;
  }
  return Math.min(at, bytes.length);
}
