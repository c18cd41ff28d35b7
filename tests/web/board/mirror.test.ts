import { describe, expect, it } from 'vitest';
import { patternFromText, staggerOf, weave } from '../../../engine/index.ts';
import { axisX, NO_MIRROR, type TiedCell, withMirrored } from '../../../web/board/mirror.ts';
import { samplePattern } from '../../support/sample-board.ts';
import { tied } from '../../support/tied.ts';

describe('mirrored tying', () => {
  const stagger = staggerOf(samplePattern(8, 8));

  it('[B55] left for right: forward with backward, one bend with the other; at the middle the knot itself', () => {
    const middle = { upright: 'middle', level: null } as const;
    expect(withMirrored(stagger, middle, [{ row: 0, k: 0, knot: 1 }])).toEqual([
      { row: 0, k: 0, knot: 1 },
      { row: 0, k: 3, knot: 2 },
    ]);
    expect(withMirrored(stagger, middle, [{ row: 0, k: 1, knot: 3 }])[1]).toEqual({ row: 0, k: 2, knot: 4 });
    expect(withMirrored(stagger, middle, [{ row: 1, k: 1, knot: 1 }])).toEqual([{ row: 1, k: 1, knot: 1 }]);
  });

  it('[B55] the picture mirrors: knots tied about the middle of mirrored colours read the same from both sides', () => {
    const colours = ['a', 'b', 'c', 'd', 'd', 'c', 'b', 'a'];
    let pattern = patternFromText(colours, ['- - - -', '- - -', '- - - -', '- - -']);
    const half: TiedCell[] = [
      { row: 0, k: 0, knot: 1 },
      { row: 0, k: 1, knot: 4 },
      { row: 1, k: 0, knot: 2 },
      { row: 2, k: 1, knot: 1 },
      { row: 3, k: 0, knot: 3 },
    ];
    pattern = tied(pattern, withMirrored(staggerOf(pattern), { upright: 'middle', level: null }, half));
    for (const row of weave(pattern).shown) {
      const seen = [...row].map((string) => (string < 0 ? '-' : colours[string]));
      expect(seen).toEqual([...seen].reverse());
    }
  });

  it('[B55] across a row: forward with backward, bends stay', () => {
    const level = { upright: null, level: 2 };
    expect(withMirrored(stagger, level, [{ row: 0, k: 1, knot: 1 }])[1]).toEqual({ row: 4, k: 1, knot: 2 });
    expect(withMirrored(stagger, level, [{ row: 1, k: 1, knot: 3 }])[1]).toEqual({ row: 3, k: 1, knot: 3 });
  });

  it('[B55] both axes make four; what falls outside is left out', () => {
    const both = { upright: 'middle', level: 2 } as const;
    expect(withMirrored(stagger, both, [{ row: 0, k: 0, knot: 3 }])).toHaveLength(4);
    expect(withMirrored(stagger, { upright: 0.5, level: null }, [{ row: 0, k: 2, knot: 1 }])).toHaveLength(1);
    expect(withMirrored(stagger, NO_MIRROR, [{ row: 0, k: 0, knot: 1 }])).toHaveLength(1);
  });

  it('[B55] an odd number of strings has no middle', () => {
    expect(axisX({ upright: 'middle', level: null }, 7)).toBeNull();
    expect(axisX({ upright: 'middle', level: null }, 8)).toBe(3.5);
  });
});
