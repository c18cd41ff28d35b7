/**
 * What a colourway means for a board. A colourway is a dress, its keychain a board: so all that the engine and the page can do with a board
 * (mounting, cutting list, paper, file) holds for each keychain of a set. What is dressed is looked at and never written back.
 */
import type { Board, Colourway, PaletteColour } from './board.ts';
import type { ColourId } from './pattern.ts';

/** A palette colour as a colourway shows it. */
export interface DressedColour extends PaletteColour {
  /** Whether the colourway does not name it, so that it looks as on the board. */
  readonly isMissing: boolean;
  /** Whether the colourway has no name of its own for it; `name` is empty then. */
  readonly isUnnamed: boolean;
}

/**
 * The palette as it looks in a colourway, in its order; null = the board's own colours. Threads are told apart by hex, so a name that came
 * along from the board goes with the board's hex alone: another thread under it has no name of its own. O(colours). Rule E1.
 */
export function paletteIn(
  palette: readonly PaletteColour[],
  colourway: Colourway | null,
): readonly DressedColour[] {
  const theirs = new Map(colourway?.colours.map((colour) => [colour.id, colour]));
  return palette.map(({ id, name, hex }) => {
    const own = theirs.get(id);
    if (own === undefined)
      return { id, name, hex: hex.toLowerCase(), isMissing: colourway !== null, isUnnamed: false };
    const isUnnamed = own.name === '' || isOfAnother(palette, own);
    const shown = isUnnamed ? '' : own.name;
    return { id, name: shown, hex: own.hex.toLowerCase(), isMissing: false, isUnnamed };
  });
}

/** Whether a name is that of a palette colour, and of none that looks like this. Rule E1. */
export function isOfAnother(
  palette: readonly PaletteColour[],
  { name, hex }: Pick<PaletteColour, 'name' | 'hex'>,
): boolean {
  const named = palette.filter((colour) => colour.name === name);
  return named.length > 0 && named.every((colour) => colour.hex.toLowerCase() !== hex.toLowerCase());
}

/**
 * Which palette colour stands for each: in a colourway colours of one hex are one thread, and the first of them in the palette that a
 * string has stands for all. The board's own colours are told apart by their ids, as everywhere on the board. O(strings + colours).
 */
export function threadsIn(
  { palette, pattern }: Pick<Board, 'palette' | 'pattern'>,
  colourway: Colourway | null,
): ReadonlyMap<ColourId, ColourId> {
  const looks = paletteIn(palette, colourway);
  const first = new Map<string, ColourId>();
  const used = new Set(pattern.colours);
  for (const isUsed of [true, false])
    for (const { id, hex } of looks) if (used.has(id) === isUsed && !first.has(hex)) first.set(hex, id);
  return new Map(looks.map(({ id, hex }) => [id, colourway === null ? id : first.get(hex)!]));
}

/**
 * The board as one keychain in a colourway: its own palette, in which colours of one hex are one, its strings in these colours, and no
 * other colourways. Null gives the board's own colours. Knots, piece and gauge stay; a thread without a name of its own is called by its
 * code. O(strings + colours). Rule E1.
 * @throws RangeError when a string's colour is not in the palette
 */
export function dressBoard(board: Board, colourway: Colourway | null): Board {
  const threads = threadsIn(board, colourway);
  const looks = paletteIn(board.palette, colourway);
  const shown = looks.filter(({ id }) => threads.get(id) === id);
  const nameOf = (thread: DressedColour): string =>
    [thread, ...looks].find((look) => look.hex === thread.hex && !look.isUnnamed)?.name ?? thread.hex;
  const colours = board.pattern.colours.map((id) => {
    const thread = threads.get(id);
    if (thread === undefined) throw new RangeError(`colour ${JSON.stringify(id)} is not in the palette`);
    return thread;
  });
  return {
    ...board,
    palette: shown.map((look) => ({
      id: look.id,
      name: colourway === null ? look.name : nameOf(look),
      hex: look.hex,
    })),
    pattern: { ...board.pattern, colours },
    colourways: [],
  };
}
