/**
 * Bands told knot by knot in Thérèse de Dillmont, Encyclopedia of Needlework, chapter "Macramé" (Project Gutenberg
 * eBook 20776). Strings are numbered from 1 as in the book.
 */
import { describe, expect, it } from 'vitest';
import { weave } from '../../engine/index.ts';
import { bar, type Tie, tiedByHand } from '../support/tied-by-hand.ts';

/** Who knots, in the order of the ties, and how the strings hang after all of them. */
function told(names: readonly string[], ties: readonly Tie[]): { knotters: string[]; after: string[] } {
  const { pattern, cells } = tiedByHand(names, ties);
  const woven = weave(pattern);
  return {
    knotters: cells.map(({ row, k }) => names[woven.shown[row]![k]!]!),
    after: Array.from(woven.finalOrder, (string) => names[string]!),
  };
}

const numbers = (n: number) => Array.from({ length: n }, (_, i) => String(i + 1));

describe('Dillmont’s bars', () => {
  it('[W1] figs. 540-541: a bar to the right, thread 1 the cord, then a second with thread 2', () => {
    const first = told(numbers(4), bar(0, 3));
    expect(first).toEqual({ knotters: ['2', '3', '4'], after: ['2', '3', '4', '1'] });
    const both = told(numbers(4), [...bar(0, 3), ...bar(0, 3)]);
    expect(both).toEqual({ knotters: ['2', '3', '4', '3', '4', '1'], after: ['3', '4', '1', '2'] });
  });

  it('[W1] figs. 542-543: a bar to the left, 3, 2, 1 over 4, then 2, 1, 4 over 3', () => {
    const first = told(numbers(4), bar(3, 0));
    expect(first).toEqual({ knotters: ['3', '2', '1'], after: ['4', '1', '2', '3'] });
    const both = told(numbers(4), [...bar(3, 0), ...bar(3, 0)]);
    expect(both).toEqual({ knotters: ['3', '2', '1', '2', '1', '4'], after: ['3', '4', '1', '2'] });
  });

  it('[W1] figs. 560-561: four blue cords covered by brown, each bar longer than the last, 22 knots', () => {
    const names = ['b1', 'b2', 'b3', 'b4', 'd1', 'd2', 'd3', 'L'];
    const { knotters, after } = told(names, [...bar(3, 7), ...bar(2, 7), ...bar(1, 7), ...bar(0, 7)]);
    const colours = knotters.map((name) => name.charAt(0).toUpperCase()).join('');
    expect(colours).toBe('DDDL' + 'DDDLB' + 'DDDLBB' + 'DDDLBBB');
    expect(knotters).toHaveLength(22);
    expect(after).toEqual(['d1', 'd2', 'd3', 'L', 'b4', 'b3', 'b2', 'b1']);
  });

  it('[W1] fig. 548, fifth row: two bars of six threads meet, cords 1 and 12, the second takes the first cord too', () => {
    const { knotters } = told(numbers(12), [...bar(0, 5), ...bar(11, 5)]);
    expect(knotters.slice(0, 5)).toEqual(['2', '3', '4', '5', '6']);
    expect(knotters.slice(5, 10)).toEqual(['11', '10', '9', '8', '7']);
    expect(knotters.slice(10)).toEqual(['1']);
  });

  it('[W1] fig. 545, single chain: two threads, each in turns cord to the other', () => {
    const forward = Array.from({ length: 6 }, (): Tie => ({ place: 0, knot: 1 }));
    expect(told(['1', '2'], forward).knotters).toEqual(['1', '2', '1', '2', '1', '2']);
  });
});
