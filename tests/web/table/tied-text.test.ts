import { describe, expect, it } from 'vitest';
import { TiedText, textToTied } from '../../../web/table/tied-text.ts';
import { seededRandom } from '../../support/seeded-random.ts';

const tiedToText = (tied: ReadonlySet<string>): string => new TiedText().of(tied);

describe('tied knots as text', () => {
  it('[N3] are the same knots again, whatever their order and however many parts and repeats', () => {
    const tied = new Set([
      'lead-in 0 1 0',
      'band 2 14 3',
      'band 2 14 1',
      'band 2 14 2',
      'band 1 14 9',
      'end 0 0 0',
    ]);
    expect(textToTied(tiedToText(tied))).toEqual(tied);
    expect(textToTied(tiedToText(new Set()))).toEqual(new Set());
  });

  it('[N3] take one entry for each row: neighbours are a stretch', () => {
    const row = Array.from({ length: 30 }, (_, k) => `band 1 0 ${29 - k}`);
    expect(tiedToText(new Set(row))).toBe('band 1 0 0-29');
    expect(tiedToText(new Set(['band 1 0 0', 'band 1 0 2', 'band 1 0 3']))).toBe('band 1 0 0,2-3');
  });

  it('[N3] a full band of 60 strings and 400 rows takes less than 8,000 characters', () => {
    const keys = Array.from({ length: 400 }, (_, row) =>
      Array.from({ length: 30 - (row % 2) }, (_, k) => `band 1 ${row} ${k}`),
    ).flat();
    const text = tiedToText(new Set(keys));
    expect(text.length).toBeLessThan(8000);
    expect(textToTied(text).size).toBe(keys.length);
  });

  it('[N3] [N100] of one set after the other they are as of each alone: tied on, taken back, in between, begun anew', () => {
    const random = seededRandom(18);
    const all = Array.from({ length: 40 }, (_, at) => `band 1 ${at >> 3} ${at % 8}`);
    const text = new TiedText();
    let tied: readonly string[] = [];
    let stretched = 0;
    for (let turn = 0; turn < 500; turn++) {
      const left = all.filter((key) => !tied.includes(key));
      const way = random.below(24);
      if (way === 0) tied = tied.slice(0, random.below(tied.length + 1));
      else if (way === 1) tied = tied.filter(() => random.below(4) > 0);
      else if (way === 2) tied = [...tied].reverse();
      else tied = [...tied, ...left.slice(0, random.below(3))];
      const own = text.of(new Set(tied));
      expect(own, `turn ${turn}`).toBe(tiedToText(new Set(tied)));
      expect(textToTied(own)).toEqual(new Set(tied));
      stretched = Math.max(stretched, tied.length);
    }
    expect(stretched).toBeGreaterThan(30);
  });

  it('[N3] what cannot be read is left out, and no text makes endless knots', () => {
    expect(textToTied('band 1 0 1;nonsense;band 0 0 1;band 1 0 x-3;band 1 2 4-2')).toEqual(
      new Set(['band 1 0 1']),
    );
    expect(textToTied('band 1 0 0-99999999').size).toBe(0);
  });
});
