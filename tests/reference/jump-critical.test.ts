/** The reference for working orders against a published census of posets. */
import { describe, expect, it } from 'vitest';
import { type Below, jumpCriticalPosets, jumpNumber, without } from './jump-critical.ts';
import { fewestJumps, type LabelledPoset } from './work-poset.ts';

const posetOf = (below: Below): LabelledPoset => ({
  after: below.map((under) => below.flatMap((_, element) => ((under >> element) & 1 ? [element] : []))),
  labels: below.map(() => 0),
});

describe('jump-critical posets', () => {
  // M. H. El-Zahar, I. Rival, Examples of jump-critical ordered sets, SIAM J. Algebraic Discrete Methods 6 (1985): of jump number 3
  // there are precisely 14, the largest of nine elements (its abstract; the title is from memory).
  const critical = jumpCriticalPosets(3, 9);

  it('of three jumps there are 14, the largest of nine elements (El-Zahar and Rival 1985)', () => {
    expect(critical).toHaveLength(14);
    expect(Math.max(...critical.map((poset) => poset.length))).toBe(9);
  });

  it('the plain reference finds their jumps, and one less without any one element', () => {
    for (const poset of critical) {
      expect(fewestJumps(posetOf(poset))).toBe(3);
      poset.forEach((_, element) => {
        const rest = without(poset, element);
        expect(jumpNumber(rest)).toBe(2);
        expect(fewestJumps(posetOf(rest))).toBe(2);
      });
    }
  });
});
