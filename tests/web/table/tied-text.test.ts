import { describe, expect, it } from 'vitest';
import { textToTied, tiedToText } from '../../../web/table/tied-text.ts';

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

  it('[N3] what cannot be read is left out, and no text makes endless knots', () => {
    expect(textToTied('band 1 0 1;nonsense;band 0 0 1;band 1 0 x-3;band 1 2 4-2')).toEqual(
      new Set(['band 1 0 1']),
    );
    expect(textToTied('band 1 0 0-99999999').size).toBe(0);
  });
});
