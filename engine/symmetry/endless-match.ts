/** Whether a motion lays the endless picture onto itself, decided from one repeat. */
import type { Pattern } from '../pattern/index.ts';
import { weave } from '../weave/index.ts';
import { type ColourTracks, colourTracks } from './colour-tracks.ts';
import { flipsEnds, imageOfPlace, keepsStagger, type MotionKind } from './motion.ts';

interface EndlessPicture {
  readonly strings: number;
  /** Rows of the closed repeat, even. */
  readonly rows: number;
  /** `shown[row * width + place]`: the string that shows, by its place at the top of its repeat; -1 where none. */
  readonly shown: Int16Array;
  readonly tracks: ColourTracks;
}

/** The picture of one repeat, with what later repeats make of it. O(rows x strings + strings²). */
export function endlessPicture(pattern: Pattern): EndlessPicture {
  const strings = pattern.colours.length;
  const width = strings - 1;
  const rows = pattern.rows + (pattern.rows & 1);
  const shown = new Int16Array(rows * width).fill(-1);
  const { shownFlat } = weave(pattern);
  const stride = strings >> 1;
  for (let row = 0; row < pattern.rows; row++)
    for (let place = (pattern.start + row) & 1; place < width; place += 2)
      shown[row * width + place] = shownFlat[row * stride + (place >> 1)]!;
  return { strings, rows, shown, tracks: colourTracks(pattern) };
}

/**
 * Whether some motion of the kind lays the endless picture onto itself; a glide by no rows, the mirror, counts as a glide.
 *
 * A motion moves row r of repeat j by `shift` rows within the repeat and then by q repeats. Two cells agree in all repeats
 * when their tracks are of one class and q is one certain remainder modulo the track's period. So for each shift the cells
 * give remainders that q must have, and such a q exists exactly when any two of them agree modulo the greatest common divisor of
 * their periods (Chinese remainder theorem). No repeat beyond the first is worked.
 * O(rows² x strings) at worst; a shift is given up at the first cell that does not fit.
 */
export function hasMotion(picture: EndlessPicture, kind: MotionKind): boolean {
  if (picture.rows === 0) return true;
  const last = kind === 'mirror' ? 0 : picture.rows - 1;
  for (let shift = 0; shift <= last; shift++) if (fits(picture, kind, shift)) return true;
  return false;
}

function fits({ strings, rows, shown, tracks }: EndlessPicture, kind: MotionKind, shift: number): boolean {
  const width = strings - 1;
  const isTurned = flipsEnds(kind);
  /** Remainder that q must have, by period. */
  const demands = new Map<number, number>();
  if (kind === 'mirror') demands.set(1, 0);
  // Rows of the wrong stagger may fall on each other only where nothing shows in either.
  const isStaggerKept = keepsStagger({ kind, rows: shift }, strings);
  for (let row = 0; row < rows; row++) {
    const image = isTurned ? shift - row : shift + row;
    const to = ((image % rows) + rows) % rows;
    const carried = (image - to) / rows;
    for (let place = 0; place < width; place++) {
      const x = shown[row * width + place]!;
      const y = shown[to * width + imageOfPlace(kind, place, strings)]!;
      if (x < 0 && y < 0) continue;
      if (x < 0 || y < 0 || !isStaggerKept) return false;
      const period = tracks.period[x]!;
      if (tracks.classOf[x] !== (isTurned ? tracks.backwardClass[y] : tracks.classOf[y])) return false;
      // Straight: colour of x in repeat j = colour of y in repeat j + q + carried. Turned: in repeat q + carried - j.
      const sum = isTurned
        ? tracks.backwardOffset[y]! - tracks.offset[x]!
        : tracks.offset[x]! - tracks.offset[y]!;
      const demand = (((sum - carried) % period) + period) % period;
      const known = demands.get(period);
      if (known === undefined) demands.set(period, demand);
      else if (known !== demand) return false;
    }
  }
  if (kind === 'mirror') return [...demands.values()].every((demand) => demand === 0);
  return agree([...demands]);
}

/** Whether one number has all these remainders, `[modulus, remainder]`. */
function agree(demands: readonly (readonly [number, number])[]): boolean {
  return demands.every(([m, a], i) => demands.slice(0, i).every(([n, b]) => (a - b) % gcd(m, n) === 0));
}

function gcd(a: number, b: number): number {
  let [x, y] = [a, b];
  while (y !== 0) [x, y] = [y, x % y];
  return x;
}
