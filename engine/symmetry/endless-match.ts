/** Whether a motion lays the endless picture onto itself, decided from one repeat. */
import type { Pattern } from '../pattern/index.ts';
import { weave } from '../weave/index.ts';
import { type ColourTracks, colourTracks } from './colour-tracks.ts';
import { flipsEnds, imageOfPlace, keepsStagger, type MotionKind } from './motion.ts';

export interface EndlessPicture {
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

/** A cell and its image agree whatever q is: nothing shows in either. */
export const ANY_REPEATS = -1;
/** They agree whatever q is not. */
export const NO_REPEATS = -2;

/**
 * The remainder that q must have modulo the period of a cell's track, for the cell and its image to agree in all repeats;
 * {@link ANY_REPEATS} or {@link NO_REPEATS} where none is asked for. The motion moves by `shift` rows and q repeats.
 */
export function remainderAt(
  { strings, rows, shown, tracks }: EndlessPicture,
  kind: MotionKind,
  shift: number,
  row: number,
  place: number,
): number {
  const width = strings - 1;
  const image = flipsEnds(kind) ? shift - row : shift + row;
  const to = ((image % rows) + rows) % rows;
  const x = shown[row * width + place]!;
  const y = shown[to * width + imageOfPlace(kind, place, strings)]!;
  if (x < 0 && y < 0) return ANY_REPEATS;
  // Rows of the wrong stagger may fall on each other only where nothing shows in either.
  if (x < 0 || y < 0 || !keepsStagger({ kind, rows: shift }, strings)) return NO_REPEATS;
  return remainderOf(tracks, flipsEnds(kind), x, y, (image - to) / rows);
}

/**
 * The remainder that q must have modulo the period of x for the tracks of two places to agree in all repeats, when the second is read
 * q + `carried` repeats further on, backwards where the motion is turned; {@link NO_REPEATS} when they never do.
 */
export function remainderOf(
  tracks: ColourTracks,
  isTurned: boolean,
  x: number,
  y: number,
  carried: number,
): number {
  const period = tracks.period[x]!;
  if (tracks.classOf[x] !== (isTurned ? tracks.backwardClass[y] : tracks.classOf[y])) return NO_REPEATS;
  // Straight: colour of x in repeat j = colour of y in repeat j + q + carried. Turned: in repeat q + carried - j.
  const sum = isTurned
    ? tracks.backwardOffset[y]! - tracks.offset[x]!
    : tracks.offset[x]! - tracks.offset[y]!;
  return (((sum - carried) % period) + period) % period;
}

function fits(picture: EndlessPicture, kind: MotionKind, shift: number): boolean {
  return kind === 'mirror'
    ? leastRepeats(picture, kind, shift)?.repeats === 0
    : leastRepeats(picture, kind, shift) !== null;
}

/** How often to go on by a whole repeat, and after how many repeats it comes to the same. */
export interface Repeats {
  readonly repeats: number;
  readonly modulus: number;
}

/**
 * The least q, from 0 on, with which a motion by `shift` rows and q repeats lays the picture onto itself; null when there is none.
 * @throws RangeError when the number is too large to be told exactly
 */
export function leastRepeats(picture: EndlessPicture, kind: MotionKind, shift: number): Repeats | null {
  /** Remainder that q must have, by period. */
  const demands = new Map<number, number>();
  const { rows, strings, shown, tracks } = picture;
  const width = strings - 1;
  for (let row = 0; row < rows; row++) {
    for (let place = 0; place < width; place++) {
      const remainder = remainderAt(picture, kind, shift, row, place);
      if (remainder === ANY_REPEATS) continue;
      if (remainder === NO_REPEATS) return null;
      const period = tracks.period[shown[row * width + place]!]!;
      const known = demands.get(period);
      if (known === undefined) demands.set(period, remainder);
      else if (known !== remainder) return null;
    }
  }
  let all: Repeats = { repeats: 0, modulus: 1 };
  for (const [modulus, repeats] of demands) {
    const both = together(all, { repeats, modulus });
    if (both === null) return null;
    all = both;
  }
  return all;
}

/**
 * What has both remainders (Chinese remainder theorem); null when nothing has.
 * @throws RangeError when it is too large to be told exactly
 */
export function together(a: Repeats, b: Repeats): Repeats | null {
  const [m, n] = [BigInt(a.modulus), BigInt(b.modulus)];
  const [common, inverse] = extendedGcd(m, n);
  const apart = BigInt(b.repeats) - BigInt(a.repeats);
  if (apart % common !== 0n) return null;
  const modulus = (m / common) * n;
  const steps = ((apart / common) * inverse) % (n / common);
  const repeats = (((BigInt(a.repeats) + m * steps) % modulus) + modulus) % modulus;
  if (modulus > BigInt(Number.MAX_SAFE_INTEGER))
    throw new RangeError(`${modulus} repeats are too many to count`);
  return { repeats: Number(repeats), modulus: Number(modulus) };
}

/** The greatest common divisor g of two numbers, and u with a u = g modulo b. */
function extendedGcd(a: bigint, b: bigint): [bigint, bigint] {
  let [r0, r1, u0, u1] = [a, b, 1n, 0n];
  while (r1 !== 0n) {
    const quotient = r0 / r1;
    [r0, r1] = [r1, r0 - quotient * r1];
    [u0, u1] = [u1, u0 - quotient * u1];
  }
  return [r0, u0];
}
