/** The board a maker begins with: nothing tied, three colours laid from the outside in, so that it mounts neatly. */
import { type Board, MAX_ROWS, MAX_STRINGS, MIN_STRINGS } from '../../engine/index.ts';

const PALETTE = [
  { id: 'sand', name: 'Sand', hex: '#d8b787' },
  { id: 'lagoon', name: 'Lagoon', hex: '#1f7a80' },
  { id: 'plum', name: 'Plum', hex: '#6c3a6b' },
] as const;

/**
 * @param strings 2 to 200
 * @param rows 0 to 20,000
 * @throws RangeError outside these
 */
export function blankBoard(strings: number, rows: number, title: string): Board {
  if (!Number.isInteger(strings) || strings < MIN_STRINGS || strings > MAX_STRINGS)
    throw new RangeError(
      `strings is ${strings}; it must be a whole number from ${MIN_STRINGS} to ${MAX_STRINGS}`,
    );
  if (!Number.isInteger(rows) || rows < 0 || rows > MAX_ROWS)
    throw new RangeError(`rows is ${rows}; it must be a whole number from 0 to ${MAX_ROWS}`);
  const colours = Array.from({ length: strings }, (_, place) => {
    const fromEdge = Math.min(place, strings - 1 - place);
    return PALETTE[fromEdge % PALETTE.length]!.id;
  });
  return {
    title,
    palette: PALETTE,
    pattern: { colours, start: 0, rows, knots: new Uint8Array(rows * (strings >> 1)) },
    piece: {},
    gauge: {},
    colourways: [],
  };
}
