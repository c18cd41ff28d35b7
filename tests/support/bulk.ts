/** Something large that a design may hold: knots packed under a pattern that nobody reads. `mark` tells one from another. */
export function bulk(bytes: number, mark = 0): { rows: number; strings: number; knots: Uint8Array } {
  return { rows: mark, strings: 0, knots: new Uint8Array(bytes) };
}
