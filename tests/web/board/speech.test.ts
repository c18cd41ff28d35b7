/** What a screen reader says of a knot or a peg. */
import { describe, expect, it } from 'vitest';
import { kindName, spokenSpot } from '../../../web/board/speech.ts';
import { boardHost } from '../../support/board-host.ts';
import { sampleBoard } from '../../support/sample-board.ts';

const saidAt = (row: number, k: number): string => {
  const { editor } = boardHost(sampleBoard(6, 5));
  editor.moveTo({ on: 'knot', row, k }, false);
  return spokenSpot(editor, null);
};

describe('what is said', () => {
  it('of a knot: where it is, which it is, and which colour lies over which', () => {
    expect(saidAt(0, 1)).toMatch(/^row 1, knot 2, forward, (\w+) over (\w+)$/);
    // The left string shows where it ties forward, the right one where it ties backward.
    expect(saidAt(0, 1)).toBe('row 1, knot 2, forward, blue over red');
    expect(saidAt(0, 2)).toBe('row 1, knot 3, backward, blue over green');
  });

  it('of an untied pair: both colours', () => {
    expect(saidAt(0, 0)).toBe('row 1, knot 1, untied, red and green');
  });

  it('of a peg: its colour', () => {
    const { editor } = boardHost();
    editor.moveTo({ on: 'peg', place: 2 }, false);
    expect(spokenSpot(editor, null)).toBe('peg 3, blue');
  });

  it('of a board without rows: what to do', () => {
    const board = sampleBoard(6, 0);
    expect(spokenSpot(boardHost(board).editor, null)).toMatch(/no rows yet/);
  });

  it('[G2] how much is said there, if anything is', () => {
    const { editor } = boardHost();
    const talk = (count: number) => ({ canTalk: true, countAt: () => count });
    expect(spokenSpot(editor, talk(0))).not.toContain('remark');
    expect(spokenSpot(editor, talk(2))).toMatch(/, 2 remarks here$/);
  });

  it('each kind of knot has a word of its own', () => {
    expect(new Set(([0, 1, 2, 3, 4] as const).map(kindName)).size).toBe(5);
  });
});
