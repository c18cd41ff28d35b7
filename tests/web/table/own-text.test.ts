import { describe, expect, it } from 'vitest';
import type { KnotToken, TiedMark } from '../../../engine/index.ts';
import { kindsToText, marksToText, textToKinds, textToMarks } from '../../../web/table/own-text.ts';

describe('what a keychain has of its own, as text', () => {
  it('[N41] kinds come back as they were, and what cannot be read is left out', () => {
    const kinds = new Map<string, KnotToken>([
      ['band 2 14 3', 'fb'],
      ['lead-in 0 1 0', '-'],
      ['end 0 0 2', 'b'],
    ]);
    expect(textToKinds(kindsToText(kinds))).toEqual(kinds);
    expect(textToKinds('')).toEqual(new Map());
    expect(textToKinds('band 1 0 0=f;band 1 0 1=x;no knot=f;band 1 0 2;=')).toEqual(
      new Map([['band 1 0 0', 'f']]),
    );
  });

  it('[N60] marks come back to the millisecond, and what cannot be read is left out', () => {
    const marks: TiedMark[] = [
      { gapMs: 8200, knots: 1, wasHidden: false },
      { gapMs: 95_000, knots: 3, wasHidden: true },
    ];
    expect(textToMarks(marksToText(marks))).toEqual(marks);
    expect(textToMarks('')).toEqual([]);
    expect(textToMarks('5,0;-1,2;x;7,2,z;9,1')).toEqual([{ gapMs: 9, knots: 1, wasHidden: false }]);
  });
});
