import { expect, it } from 'vitest';
import { boardToFollow, dressedBoard, keptMarks } from '../../../web/table/board-now.ts';
import { marksOf } from '../../../web/table/keychain-shelf.ts';
import { mirrorBoard } from '../../../web/table/views.ts';
import { LOPSIDED, readBoard } from '../../support/own-board.ts';

const night = LOPSIDED.palette.map((colour) => ({ ...colour, hex: '#102030' }));
const BOARD = readBoard({ ...LOPSIDED, colourways: [{ id: 'night', name: 'Night', colours: night }] });

it('[N5] the board of now is dressed and mirrored as the keychain is, and worked out once for each board', () => {
  const own = boardToFollow(BOARD, null, 'same')!;
  expect(own).toEqual({ ...BOARD, colourways: [] });
  const dark = boardToFollow(BOARD, 'night', 'from-right')!;
  expect(new Set(dark.palette.map(({ hex }) => hex))).toEqual(new Set(['#102030']));
  expect(boardToFollow(BOARD, 'night', 'mirror')).toEqual(mirrorBoard(dark));
  expect(boardToFollow(BOARD, 'gone', 'same')).toBeNull();
  for (const view of ['same', 'mirror'] as const)
    expect(boardToFollow(BOARD, 'night', view)).toBe(boardToFollow(BOARD, 'night', view));
  expect(dressedBoard(BOARD, null)).toBe(own);
  expect([keptMarks(own), keptMarks(dark)]).toEqual([marksOf(own), marksOf(dark)]);
  expect(keptMarks(own)).not.toBe(keptMarks(dark));
});
