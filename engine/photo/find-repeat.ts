/** After how many rows a picture comes again. */
import { OPEN } from '../wish/index.ts';

/** Of the knots that can be compared so many must be alike. Own choice, from rendered bands. */
const ALIKE = 0.95;

/**
 * The fewest rows, an even number, after which every row shows what it showed, but for some knots; null where half of the band shows none.
 * @param rows index of the colour of each knot, open where it is not known
 * O(rows² x knots).
 */
export function findRepeat(rows: readonly (readonly number[])[]): number | null {
  for (let step = 2; 2 * step <= rows.length; step += 2) {
    let same = 0;
    let all = 0;
    for (let row = 0; row + step < rows.length; row++)
      rows[row]!.forEach((index, k) => {
        const other = rows[row + step]![k]!;
        if (index === OPEN || other === OPEN) return;
        all += 1;
        if (index === other) same += 1;
      });
    if (all > 0 && same >= ALIKE * all) return step;
  }
  return null;
}
