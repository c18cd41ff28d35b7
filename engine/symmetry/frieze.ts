/** The frieze group of the endless band. */
import type { Pattern } from '../pattern/index.ts';
import { type BandCells, bandCells, bandRows } from './band-rows.ts';
import { endlessPicture, hasMotion } from './endless-match.ts';

/**
 * The seven frieze groups by their IUC names (International Union of Crystallography), the band's long axis being the axis of
 * translation: p1m1 has mirrors across the band, p11m the mirror along it, p11g a glide along it, p2 half turns.
 */
export type Frieze = 'p1' | 'p11g' | 'p1m1' | 'p11m' | 'p2' | 'p2mg' | 'p2mm';

/** Which symmetries the endless picture has. */
export interface FriezeSymmetries {
  /** The mirror along the band exchanges left and right. */
  readonly leftRight: boolean;
  /** Mirrored left to right and moved along; true as well where `leftRight` is. */
  readonly glide: boolean;
  /** A mirror across the band exchanges up and down. */
  readonly upsideDown: boolean;
  readonly halfTurn: boolean;
}

/**
 * Which symmetries the endless picture has; exact for every pattern. Where the ring of rows is short enough (see bandCells) it
 * is looked at as a whole, O(its cells); where the colours recur only after very many repeats the answer comes from one
 * repeat (see hasMotion). Rules S4, S5.
 */
export function friezeSymmetries(pattern: Pattern): FriezeSymmetries {
  const ring = bandCells(pattern);
  return ring === null ? symmetriesOfRepeat(pattern) : symmetriesOfRing(ring);
}

/** From the whole ring of rows, each a number. O(cells). */
export function symmetriesOfRing(ring: BandCells): FriezeSymmetries {
  const { rows, mirrored } = bandRows(ring);
  const leftRight = rows.every((number, at) => number === mirrored[at]);
  return {
    leftRight,
    glide: leftRight || isTurnOf(mirrored, rows),
    upsideDown: isTurnOf(rows.toReversed(), rows),
    halfTurn: isTurnOf(mirrored.toReversed(), rows),
  };
}

/** From one repeat, however many there are. O(rows² x strings) at worst. */
export function symmetriesOfRepeat(pattern: Pattern): FriezeSymmetries {
  const picture = endlessPicture(pattern);
  return {
    leftRight: hasMotion(picture, 'mirror'),
    glide: hasMotion(picture, 'glide'),
    upsideDown: hasMotion(picture, 'upside-down'),
    halfTurn: hasMotion(picture, 'half-turn'),
  };
}

/** The group with exactly these symmetries. */
export function friezeOf({ leftRight, glide, upsideDown, halfTurn }: FriezeSymmetries): Frieze {
  if (leftRight) return upsideDown ? 'p2mm' : 'p11m';
  if (glide) return upsideDown ? 'p2mg' : 'p11g';
  if (upsideDown) return 'p1m1';
  return halfTurn ? 'p2' : 'p1';
}

/** Whether the ring `part`, turned by some number of rows, is the ring `whole`. O(n): Knuth, Morris, Pratt 1977. */
function isTurnOf(part: Int32Array, whole: Int32Array): boolean {
  const n = whole.length;
  const border = new Int32Array(n + 1);
  border[0] = -1;
  for (let end = 0, at = -1; end < n; ) {
    while (at >= 0 && part[end] !== part[at]) at = border[at]!;
    border[++end] = ++at;
  }
  for (let i = 0, at = 0; i < 2 * n; i++) {
    while (at >= 0 && whole[i % n] !== part[at]) at = border[at]!;
    if (++at === n) return true;
  }
  return false;
}
