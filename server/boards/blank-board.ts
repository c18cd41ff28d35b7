/** The board a maker begins with: nothing tied, three colours laid from the outside in, so that it mounts neatly. */
import type { Board } from '../../engine/index.ts';

const PALETTE = [
  { id: 'sand', name: 'Sand', hex: '#d8b787' },
  { id: 'lagoon', name: 'Lagoon', hex: '#1f7a80' },
  { id: 'plum', name: 'Plum', hex: '#6c3a6b' },
] as const;

/** @param strings, rows a size that `sizeFault` has nothing against */
export function blankBoard(strings: number, rows: number, title: string): Board {
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
