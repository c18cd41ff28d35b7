/** Bands for the tests of working orders, and their precedence read off the woven strings, apart from engine/work. */
import { type Board, type KnotCode, type Pattern, weave } from '../../engine/index.ts';
import type { LabelledPoset } from './work-poset.ts';

/** Repeatable numbers from 0 up to 1 (mulberry32). */
export function seededRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** A pattern whose knot in each cell is chosen by `choose(row, k)`. */
export function bandOf(
  strings: number,
  rows: number,
  choose: (row: number, k: number) => number,
  start: 0 | 1 = 0,
): Pattern {
  const stride = strings >> 1;
  const knots = new Uint8Array(rows * stride);
  for (let row = 0; row < rows; row++)
    for (let k = 0; k < (strings - ((start + row) & 1)) >> 1; k++) knots[row * stride + k] = choose(row, k);
  const colours = Array.from({ length: strings }, (_, i) => `c${i % 3}`);
  return { colours, start, rows, knots };
}

/** Knots drawn at random: a share left untied, a share that stays in place, the rest changing places. */
export function randomBand(
  random: () => number,
  size: { strings: number; rows: number },
  shares: { untied: number; staying: number },
): Pattern {
  const choose = (): KnotCode => {
    if (random() < shares.untied) return 0;
    const left = random() < 0.5;
    if (random() < shares.staying) return left ? 3 : 4;
    return left ? 1 : 2;
  };
  return bandOf(size.strings, size.rows, choose, random() < 0.5 ? 0 : 1);
}

/** A board around a pattern. */
export function boardOf(pattern: Pattern, piece: Board['piece'] = {}): Board {
  const palette = ['c0', 'c1', 'c2'].map((id, i) => ({
    id,
    name: `colour ${i}`,
    hex: `#${i}${i}${i}${i}${i}${i}`,
  }));
  return { title: 'plain test input', palette, pattern, piece, gauge: {}, colourways: [] };
}

/** A tied knot of a pattern. */
export interface Tied {
  readonly row: number;
  readonly k: number;
}

/** The tied knots row after row, what each comes after, and the string that shows as its label. */
export function posetOf(pattern: Pattern): LabelledPoset & { readonly knots: readonly Tied[] } {
  const woven = weave(pattern);
  const last = new Map<number, number>();
  const after: number[][] = [];
  const labels: number[] = [];
  const knots: Tied[] = [];
  woven.shown.forEach((shown, row) => {
    shown.forEach((string, k) => {
      if (string < 0) return;
      const place = 2 * k + ((pattern.start + row) & 1);
      const pair = [woven.order[row]![place]!, woven.order[row]![place + 1]!];
      after.push([...new Set(pair.flatMap((one) => last.get(one) ?? []))]);
      for (const one of pair) last.set(one, labels.length);
      labels.push(string);
      knots.push({ row, k });
    });
  });
  return { after, labels, knots };
}
