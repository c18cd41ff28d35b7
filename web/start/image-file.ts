/** An image that somebody chose, in pixels. It is read, decoded and drawn in the browser, and goes nowhere. */
import { HEADER_BYTES, type ImageFault, type ImageHeader, readImageHeader } from './image-header.ts';

/** Pixels of the longer side at most: a knot of the widest band still has some five of them. */
const LONGEST_PX = 1024;

export type ReadImage =
  | { readonly ok: true; readonly value: ImageData }
  | { readonly ok: false; readonly error: ImageFault };

/** The pixels of a file, made smaller where it has more than a board can use; or what is wrong with it. Rules X114 to X116. */
export async function readImage(file: Blob): Promise<ReadImage> {
  const header = readImageHeader(new Uint8Array(await file.slice(0, HEADER_BYTES).arrayBuffer()));
  if (!header.ok) return header;
  const { kind } = header.value;
  try {
    const value = kind === 'SVG' ? await drawLines(file) : await decode(file, header.value);
    return { ok: true, value };
  } catch (error) {
    // What a browser throws at bytes it cannot decode.
    if (!(error instanceof DOMException)) throw error;
    return { ok: false, error: { kind: 'not-drawn', image: kind } };
  }
}

async function decode(file: Blob, { size }: ImageHeader): Promise<ImageData> {
  const { width, height } = size!;
  const scale = Math.min(1, LONGEST_PX / Math.max(width, height));
  const bitmap = await createImageBitmap(
    file,
    scale === 1 ? {} : { resizeWidth: Math.max(1, Math.round(width * scale)), resizeQuality: 'high' },
  );
  try {
    return pixelsOf(bitmap, bitmap.width, bitmap.height);
  } finally {
    bitmap.close();
  }
}

/** As an image it runs no script and fetches nothing. */
async function drawLines(file: Blob): Promise<ImageData> {
  const image = new Image();
  const address = URL.createObjectURL(new Blob([file], { type: 'image/svg+xml' }));
  try {
    image.src = address;
    await image.decode();
    const [width, height] = [image.naturalWidth || LONGEST_PX, image.naturalHeight || LONGEST_PX];
    const scale = LONGEST_PX / Math.max(width, height);
    return pixelsOf(image, Math.max(1, Math.round(width * scale)), Math.max(1, Math.round(height * scale)));
  } finally {
    URL.revokeObjectURL(address);
  }
}

function pixelsOf(source: CanvasImageSource, width: number, height: number): ImageData {
  const context = new OffscreenCanvas(width, height).getContext('2d');
  if (context === null) throw new Error('this browser draws no canvas');
  context.drawImage(source, 0, 0, width, height);
  return context.getImageData(0, 0, width, height);
}
