/** A board whose colours a colourway can make alike, hard to tell apart or one. */
import { readBoard } from './own-board.ts';

/** Four strings, three colours, no rows: two of them lie between others, so that an order may cross. */
export const FOUR_STRINGS = readBoard({
  format: 'larkboard',
  version: 1,
  palette: [
    { id: 'a', name: 'spruce', hex: '#1f6266' },
    { id: 'b', name: 'sand', hex: '#e8c98a' },
    { id: 'c', name: 'coal', hex: '#0c0c10' },
  ],
  strings: ['a', 'c', 'b', 'c'],
  rows: [],
});
