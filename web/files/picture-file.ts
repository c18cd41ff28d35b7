/** The pattern as a picture to keep: lines (SVG) or pixels (PNG). */
import {
  type Board,
  MAX_ROWS,
  type Pattern,
  pictureSvg,
  pieceRows,
  repeatRows,
  rowPerWidth,
} from '../../engine/index.ts';
import { chosenTextures } from '../board/index.ts';

/** Chromium and Firefox draw no canvas larger than this on a side. */
export const MAX_SIDE_PX = 16_384;

/** Width of a place in the SVG's own units; a row is as high for that as it will be in the band. */
const PLACE = 16;

/** So many repeats, or the piece with where it stops and its end. */
export type Pictured = number | 'piece';

function rowsOf(board: Board, of: Pictured): Pattern {
  if (of === 'piece') return pieceRows(board, MAX_ROWS);
  return repeatRows(board.pattern, board.piece.leadInRows ?? 0, of, MAX_ROWS);
}

/** SVG text of some repeats or of the piece. @throws RangeError when a string's colour is not in the palette, or a field of the gauge is out of range */
export function pictureOf(board: Board, title: string, of: Pictured): string {
  const { palette, gauge } = board;
  const textures = chosenTextures(palette);
  return pictureSvg(rowsOf(board, of), palette, {
    title,
    placePx: PLACE,
    rowPx: PLACE * rowPerWidth(gauge),
    ...(textures && { textures }),
  });
}

/** Height in pixels of the picture at a width, without drawing it. */
export function heightAt(board: Board, of: Pictured, widthPx: number): number {
  const { rows, colours } = rowsOf(board, of);
  return Math.round((((rows + 1) * rowPerWidth(board.gauge)) / colours.length) * widthPx);
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
