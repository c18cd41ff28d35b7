/** The strokes of our notation: one for each half hitch, as it lies on the finished band. */

/** Ends of one stroke, in units of half a lozenge around its middle: x right, y down. */
export type Stroke = readonly [x0: number, y0: number, x1: number, y1: number];

/**
 * Strokes by knot code. Forward leans `\ \`, backward `/ /`; forward-backward is `\` over `/`, a bend to the right;
 * backward-forward `/` over `\`, a bend to the left. All lie inside the lozenge. The two of a bend are short and wide apart: drawn small,
 * they would else close to one sign.
 */
export const HITCH_STROKES: readonly (readonly Stroke[])[] = [
  [],
  [
    [-0.46, -0.22, 0, 0.36],
    [0, -0.36, 0.46, 0.22],
  ],
  [
    [0, -0.36, -0.46, 0.22],
    [0.46, -0.22, 0, 0.36],
  ],
  [
    [-0.17, -0.6, 0.15, -0.24],
    [0.15, 0.24, -0.17, 0.6],
  ],
  [
    [0.17, -0.6, -0.15, -0.24],
    [-0.15, 0.24, 0.17, 0.6],
  ],
];
