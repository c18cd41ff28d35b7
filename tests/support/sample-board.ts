/** Small boards for tests of the document. */
import { type Board, type Pattern, rowStride } from '../../engine/pattern/index.ts';

/** An id source that counts: `<prefix>0`, `<prefix>1`, … */
export function countingIds(prefix: string): () => string {
  let next = 0;
  return () => `${prefix}${next++}`;
}

/** A board of the given size with every kind of knot in turn, three colours, and something in every field. */
export function sampleBoard(strings = 6, rows = 4, start: 0 | 1 = 0): Board {
  return {
    title: 'Test input',
    palette: [
      { id: 'r', name: 'red', hex: '#cc2222' },
      { id: 'g', name: 'green', hex: '#22aa44' },
      { id: 'b', name: 'blue', hex: '#2244cc' },
    ],
    pattern: samplePattern(strings, rows, start),
    piece: { repeats: 2, end: 'triangle', tailMm: 40 },
    gauge: { cordMm: 1.2 },
    colourways: [{ id: 'w', name: 'second', colours: [{ id: 'g', name: 'moss', hex: '#446633' }] }],
  };
}

/** The pattern of {@link sampleBoard}; knot `k` of row `r` is `(r + k) % 5`. */
export function samplePattern(strings: number, rows: number, start: 0 | 1 = 0): Pattern {
  const stride = rowStride(strings);
  const knots = new Uint8Array(rows * stride);
  for (let row = 0; row < rows; row++)
    for (let k = 0; k < (strings - ((start + row) & 1)) >> 1; k++) knots[row * stride + k] = (row + k) % 5;
  return { colours: Array.from({ length: strings }, (_, i) => 'rgb'.charAt(i % 3)), start, rows, knots };
}
