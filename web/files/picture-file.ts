/** The pattern as a picture to keep: lines (SVG) or pixels (PNG). */
import { type Board, MAX_ROWS, pictureSvg, repeatRows } from '../../engine/index.ts';
import { chosenTextures } from '../board/index.ts';

/** Chromium and Firefox draw no canvas larger than this on a side. */
export const MAX_SIDE_PX = 16_384;

/** Width of a place and height of a row in the SVG's own units. */
const PLACE = 16;
const ROW = 12;

/** SVG text of some repeats. @throws RangeError when a string's colour is not in the palette */
export function pictureOf({ pattern, palette, piece }: Board, title: string, repeats: number): string {
  const textures = chosenTextures(palette);
  return pictureSvg(repeatRows(pattern, piece.leadInRows ?? 0, repeats, MAX_ROWS), palette, {
    title,
    placePx: PLACE,
    rowPx: ROW,
    ...(textures && { textures }),
  });
}

/** Height in pixels of the picture at a width, without drawing it. */
export function heightAt({ pattern, piece }: Board, repeats: number, widthPx: number): number {
  const { rows } = repeatRows(pattern, piece.leadInRows ?? 0, repeats, MAX_ROWS);
  return Math.round((((rows + 1) * ROW) / (pattern.colours.length * PLACE)) * widthPx);
}

/**
 * The picture in pixels, on a transparent ground.
 * Rejects with RangeError when a side is more than {@link MAX_SIDE_PX}, with Error when the browser cannot draw it.
 */
export async function pngOf(svg: string, widthPx: number, heightPx: number): Promise<Blob> {
  if (widthPx > MAX_SIDE_PX || heightPx > MAX_SIDE_PX)
    throw new RangeError(`${widthPx} x ${heightPx} pixels are more than ${MAX_SIDE_PX} on a side`);
  const image = new Image();
  const address = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
  try {
    image.src = address;
    await image.decode();
    const canvas = new OffscreenCanvas(widthPx, heightPx);
    const context = canvas.getContext('2d');
    if (context === null) throw new Error('this browser draws no canvas');
    context.drawImage(image, 0, 0, widthPx, heightPx);
    return await canvas.convertToBlob({ type: 'image/png' });
  } finally {
    URL.revokeObjectURL(address);
  }
}
