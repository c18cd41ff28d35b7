/** What is made into a board: a text, or an image with a band on it. */
import {
  type Frame,
  frameFor,
  imageWish,
  layLettering,
  type PaletteColour,
  rowPerWidth,
  type Wish,
} from '../../engine/index.ts';

/** A text as it was typed. */
export interface Written {
  readonly text: string;
  readonly run: 'upright' | 'along';
}

/** An image, the band on it, and how it is brought to threads. */
export interface Pictured {
  readonly pixels: ImageData;
  readonly frame: Frame;
  readonly colours: number;
}

type LetteringFault = Extract<ReturnType<typeof layLettering>, { readonly ok: false }>['error'];

/** A wish, or why there is none. */
export type FoundWish =
  | { readonly ok: true; readonly value: Wish }
  | { readonly ok: false; readonly error: LetteringFault };

/** The wish for a text in two of the colours. */
export function wishOfText(
  { text, run }: Written,
  strings: number,
  colours: readonly [ground: PaletteColour, letters: PaletteColour],
): FoundWish {
  const laid = layLettering({ text, run, strings }, colours);
  return laid.ok ? { ok: true, value: laid.wish } : laid;
}

/** The wish for what lies under the band. */
export function wishOfImage({ pixels, frame, colours }: Pictured, palette: readonly PaletteColour[]): Wish {
  const rgba = pixels.data;
  return imageWish({ width: pixels.width, height: pixels.height, rgba }, frame, palette, { colours });
}

/** The band on the whole image, or filled by it; as high for its width as an unmeasured knot is. */
export function frameOn(
  pixels: ImageData,
  band: { readonly strings: number; readonly rows?: number },
  fit: 'whole' | 'fill' = 'whole',
): Frame {
  return frameFor(pixels, { ...band, rowPerCord: rowPerWidth({}) }, fit);
}

/** How many strings have each colour, those with most first; what a colour costs. */
export function stringsOfEach(board: {
  readonly palette: readonly PaletteColour[];
  readonly pattern: { readonly colours: readonly string[] };
}): readonly { readonly colour: PaletteColour; readonly strings: number }[] {
  return board.palette
    .map((colour) => ({ colour, strings: board.pattern.colours.filter((id) => id === colour.id).length }))
    .sort((a, b) => b.strings - a.strings);
}
