import { describe, expect, it } from 'vitest';
import { rowFinder, rowTexts } from '../../../web/table/row-addresses.ts';
import { openDesign, runAll } from '../../support/open-design.ts';

describe('rows of a board that goes on changing', () => {
  it('[N40] each row is found again where it is now, or told to be gone', () => {
    const design = openDesign();
    const texts = rowTexts(design);
    expect(texts).toHaveLength(design.snapshot.board.pattern.rows);
    expect(texts.map((_, row) => rowFinder(design, texts)(row))).toEqual(texts.map((_, row) => row));
    runAll(design, { kind: 'insert-row-pairs', at: 0, count: 1 });
    expect(texts.map((_, row) => rowFinder(design, texts)(row))).toEqual(texts.map((_, row) => row + 2));
    runAll(design, { kind: 'delete-row-pairs', from: 0, count: 2 });
    const after = texts.map((_, row) => rowFinder(design, texts)(row));
    expect(after.slice(0, 4)).toEqual([null, null, 0, 1]);
    expect(rowFinder(design, texts)(99)).toBeNull();
  });

  it('[N40] without addresses a row is the one of its number', () => {
    expect(rowFinder(openDesign(), [])(7)).toBe(7);
  });
});
